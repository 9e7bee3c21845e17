import type { Config } from '../config/config.js';
import { Outline } from '../geometry/outline.js';
import type { HelloFacts } from '../messages/toMessage.js';
import type { ClearanceSetting } from '../perception/clearance/setting.js';
import type { PerceptionSetting } from '../perception/perceive.js';

/** @returns what the clearance machine must know of the configuration. */
export function clearanceSetting({ sensor, rover, clearance }: Config): ClearanceSetting {
  return {
    outline: new Outline(rover.outline),
    sensor: [sensor.mount.x, sensor.mount.y],
    reach: sensor.reach,
    sectors: clearance.sectors,
    firstBearing: 0,
    noReturn: clearance.noReturn === 'clear' ? clearance.noReturnReach : NaN,
    urgent: clearance.urgent,
    speedMax: rover.speedMax,
    turnMax: rover.turnMax,
    noise: sensor.noise,
  };
}

/** @returns what perception of whole sweeps must know of the configuration. */
export function perceptionSetting({ sensor, rover }: Config): PerceptionSetting {
  return {
    outline: rover.outline,
    sensor: [sensor.mount.x, sensor.mount.y],
    reach: sensor.reach,
    noise: sensor.noise,
  };
}

/** @returns what a client learns of the rover; its stopping distance is v t + v^2 / (2 a) at the highest speed. */
export function helloFacts({ sensor, rover }: Config, version: string): HelloFacts {
  return {
    version,
    rover: rover.name,
    source: sensor.source,
    outline: rover.outline,
    reach: sensor.reach,
    stop: rover.speedMax * rover.reaction + rover.speedMax ** 2 / (2 * rover.brake),
    run: '',
  };
}
