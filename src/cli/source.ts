import type { Config } from '../config/config.js';
import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import type { Layout } from '../device/layouts/layout.js';
import type { Port } from '../device/port.js';

const SIMULATION_SEED = 1; // every start shows the same walk and the same noise

/** @returns the port that `sensor.source` names, not yet open. @throws {Fault} CONFIG_VALUE_BAD for a source that this version lacks. */
export async function openSource({ sensor }: Config, layout: Layout, clock: Clock): Promise<Port> {
  const baud = sensor.baud ?? layout.baud;
  if (sensor.source === 'simulated') {
    const { SimulatedPort } = await import('../simulator/simulatedPort.js');
    return new SimulatedPort({ layout, baud, sensor, seed: SIMULATION_SEED }, clock);
  }
  if (sensor.source === 'serial' && sensor.port !== undefined) {
    const { SerialLine } = await import('../device/serialPort.js');
    return new SerialLine(sensor.port, baud, clock);
  }
  throw new Fault('CONFIG_VALUE_BAD', {
    key: 'sensor.source',
    value: sensor.source,
    limits: 'serial | simulated in this version',
  });
}
