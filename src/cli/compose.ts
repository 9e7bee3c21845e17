import type { Config } from '../config/config.js';
import { Outline } from '../geometry/outline.js';
import type { HelloFacts } from '../messages/toMessage.js';
import type { ClearanceSetting } from '../perception/clearance/setting.js';
import type { PerceptionSetting } from '../perception/perceive.js';
import type { TimelineSetting } from '../runs/timeline.js';

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

/** @returns m, stopping distance at the highest speed: v t + v^2 / (2 a). */
function stopOf({ speedMax, reaction, brake }: Config['rover']): number {
  return speedMax * reaction + speedMax ** 2 / (2 * brake);
}

/** @returns what a run's time line must know of the rover. */
export function timelineSetting({ rover, sensor }: Config): TimelineSetting {
  const { mount, reach } = sensor;
  return { outline: new Outline(rover.outline), stop: stopOf(rover), sensor: [mount.x, mount.y], reach };
}

/** @returns what a client learns of the rover. */
export function helloFacts({ sensor, rover }: Config, version: string): HelloFacts {
  return {
    version,
    rover: rover.name,
    source: sensor.source,
    outline: rover.outline,
    reach: sensor.reach,
    stop: stopOf(rover),
    run: '',
  };
}
