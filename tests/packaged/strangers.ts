import { createSocket } from 'node:dgram';
import { createServer } from 'node:net';

/** Somebody on this machine whom a page might try to reach: whether anything came, by either kind of socket. */
export interface Stranger {
  readonly port: number;
  /** How often something was heard. */
  heard(): number;
  stop(): Promise<void>;
}

/** Listens for connections and for single packets on one port of the loopback. */
export async function stranger(): Promise<Stranger> {
  let heard = 0;
  const hear = (): void => {
    heard += 1;
  };
  const server = createServer((connection) => {
    hear();
    connection.destroy();
  });
  await new Promise<void>((ready) => server.listen(0, '127.0.0.1', ready));
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  const packets = createSocket('udp4', hear);
  await new Promise<void>((ready) => packets.bind(port, '127.0.0.1', ready));
  return {
    port,
    heard: () => heard,
    stop: async () => {
      packets.close();
      await new Promise((stopped) => server.close(stopped));
    },
  };
}
