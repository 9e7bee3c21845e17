import type { Config } from '../config/config.js';
import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import type { Layout } from '../device/layouts/layout.js';
import type { Port } from '../device/port.js';

/** Where the bytes come from. */
export interface Source {
  /** Not yet open. */
  readonly port: Port;
  /** Drives the rover, m/s and rad/s; undefined: it is a real one, which listens to its own controller only. */
  readonly drive?: (speed: number, turn: number) => void;
}

/** @returns what `sensor.source` names. @throws {Fault} CONFIG_VALUE_BAD for a source that this version lacks; of the world. */
export async function openSource(config: Config, layout: Layout, clock: Clock): Promise<Source> {
  const { sensor } = config;
  if (sensor.source === 'simulated') {
    const { simulatedRover } = await import('./simulation.js');
    const { port } = simulatedRover(config, layout, clock);
    return { port, drive: (speed, turn) => port.drive(speed, turn) };
  }
  if (sensor.source === 'serial' && sensor.port !== undefined) {
    const { SerialLine } = await import('../device/serialPort.js');
    return { port: new SerialLine(sensor.port, sensor.baud ?? layout.baud, clock) };
  }
  throw new Fault('CONFIG_VALUE_BAD', {
    key: 'sensor.source',
    value: sensor.source,
    limits: 'serial | simulated here',
  });
}
