import { Fault } from '../core/fault.js';
import type { Config } from './config.js';
import { flawOf } from './polygon.js';
import type { Path } from './read.js';

const TAU = 2 * Math.PI;
const LOOPBACK = /^(localhost|127\.\d+\.\d+\.\d+|::1)$/i; // RFC 6890: 127.0.0.0/8 and ::1/128; RFC 6761: localhost

/** A rule that one key alone cannot break. */
export interface Breach {
  readonly path: Path;
  readonly value: unknown;
  readonly limits: string;
}

/** @returns the first rule between keys that the configuration breaks. @throws {Fault} TOKENS_NEEDED. */
export function breachOf(config: Config): Breach | undefined {
  const { sensor, rover, server } = config;
  if (sensor.source === 'serial' && sensor.port === undefined) {
    return {
      path: ['sensor', 'port'],
      value: undefined,
      limits: 'the path of the serial port, needed with sensor.source: serial',
    };
  }
  if (sensor.reach[0] >= sensor.reach[1]) {
    return { path: ['sensor', 'reach_m'], value: sensor.reach, limits: 'the nearest range less than the farthest' };
  }
  for (const [i, { from, to }] of sensor.masks.entries()) {
    if (from === to || Math.abs(to - from) > TAU) {
      return {
        path: ['sensor', 'masks', i],
        value: [from, to],
        limits: 'from_rad and to_rad must differ, by at most one turn',
      };
    }
  }
  const flaw = flawOf(rover.outline);
  if (flaw !== undefined) return { path: ['rover', 'outline_m'], value: rover.outline, limits: flaw };
  if (!LOOPBACK.test(server.host) && server.tokens.length === 0)
    throw new Fault('TOKENS_NEEDED', { key: 'server.host', value: server.host });
  return undefined;
}
