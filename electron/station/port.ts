import { type FromStation, type ToStation, toStationSchema } from '../../core/protocol/frames.ts';

/** The pipe to the carrier that started this process. */
export interface Port {
  send(frame: FromStation): void;
  onFrame(hear: (frame: ToStation) => void): void;
  onGone(gone: () => void): void;
}

interface ParentPort {
  postMessage(message: unknown): void;
  on(event: 'message', hear: (event: { data: unknown }) => void): void;
}

/** Electron gives a utility process a port of its own; anything else speaks Node's. Null when there is neither. */
export function portToCarrier(): Port | null {
  const parent = (process as { parentPort?: ParentPort }).parentPort;
  if (parent !== undefined) {
    return {
      send: (frame) => parent.postMessage(frame),
      onFrame: (hear) => parent.on('message', (event) => deliver(event.data, hear)),
      onGone: () => {},
    };
  }
  if (process.send === undefined) return null;
  return {
    send: (frame) => {
      if (process.connected) process.send?.(frame, undefined, undefined, () => {});
    },
    onFrame: (hear) => process.on('message', (data) => deliver(data, hear)),
    onGone: (gone) => process.on('disconnect', gone),
  };
}

function deliver(data: unknown, hear: (frame: ToStation) => void): void {
  const frame = toStationSchema.safeParse(data);
  if (frame.success) hear(frame.data);
  else console.error('station: a frame from the carrier could not be read');
}
