import { toStationSchema } from '../../core/protocol/frames.ts';
import { systemClock } from '../station/clock.ts';
import type { Connection } from '../station/open-database.ts';
import { readOptions } from '../station/options.ts';
import { type Port, portToCarrier } from '../station/port.ts';
import { runStation } from '../station/station.ts';
import { type Control, controlSchema } from './control.ts';
import { MovedMachine, machineStateSchema } from './moved-machine.ts';

// The station as it is shipped, on a machine whose time can be moved and whose disk can refuse. For tests alone.

const CANNOT_WORK = 3;
const MOST_PAGES = 0xfffffffe;

const [state = '', ...words] = process.argv.slice(2);
const machine = new MovedMachine(machineStateSchema.parse(JSON.parse(state)));
const carrier = portToCarrier();
if (carrier === null) throw new Error('a station under fault is started by a test');
setZone(machine.state.zone);

let connection: Connection | null = null;
const port: Port = {
  ...carrier,
  onFrame: (hear) =>
    process.on('message', (data) => {
      const control = controlSchema.safeParse(data);
      if (control.success) return obey(control.data);
      const frame = toStationSchema.safeParse(data);
      if (frame.success) hear(frame.data);
      else console.error('station: a frame from the carrier could not be read');
    }),
};

try {
  const station = runStation(readOptions(words), port, systemClock(machine.state.boot, machine));
  connection = station.connection;
  port.onGone(() => {
    station.stop();
    process.exit(0);
  });
} catch (error) {
  const says = error instanceof Error ? error.message : String(error);
  port.send({ fatal: says });
  console.error(`station: ${says}`);
  setTimeout(() => process.exit(CANNOT_WORK), 100);
}

function obey(control: Control): void {
  if ('machine' in control) {
    if (control.machine.zone !== machine.state.zone) setZone(control.machine.zone);
    machine.state = control.machine;
  } else if (connection !== null) {
    const pages = Number(connection.pragma('page_count', { simple: true }));
    connection.pragma(`max_page_count = ${control.disk === 'full' ? pages : MOST_PAGES}`);
    connection.pragma(`query_only = ${control.disk === 'read-only' ? 'ON' : 'OFF'}`);
  }
  process.send?.({ controlled: control.token });
}

function setZone(zone: string | null): void {
  if (zone !== null) process.env.TZ = zone;
}
