import { basename } from 'node:path';
import type { Config, SensorConfig } from '../config/config.js';
import { loadConfig } from '../config/load.js';
import { type Setting, writeSettings } from '../config/write.js';
import { Fault } from '../core/fault.js';
import type { ClearanceSetting } from '../perception/clearance/setting.js';
import type { SettingsSource } from '../server/settingsPlugin.js';
import { clearanceSetting } from './compose.js';

const MASKS_MOST = 64;

type Writable<T> = { -readonly [Key in keyof T]: T[Key] };

/**
 * What may change while the daemon runs: what an empty sample means, and the masks. The senses read {@link sensor} and
 * {@link clearance} anew with every chunk of bytes, so a change holds within one revolution. What is changed is also written
 * into the configuration file, where there is one.
 */
export class LiveSettings implements SettingsSource {
  /** Give these to the link and to the senses. */
  readonly sensor: SensorConfig;
  readonly clearance: ClearanceSetting;
  readonly #sensor: Writable<SensorConfig>;
  readonly #clearance: Writable<ClearanceSetting>;
  readonly #file: string | undefined;
  #now: Pick<Config['clearance'], 'noReturn' | 'noReturnReach'>;

  /** @param file path of the configuration; undefined: none, and a change lasts until the daemon stops. */
  constructor(config: Config, file: string | undefined) {
    this.#sensor = { ...config.sensor };
    this.sensor = this.#sensor;
    this.#clearance = clearanceSetting(config);
    this.clearance = this.#clearance;
    this.#now = config.clearance;
    this.#file = file;
  }

  read(): object {
    const { mount, masks, noise } = this.#sensor;
    return {
      noReturn: this.#now.noReturn,
      noReturnM: this.#now.noReturnReach,
      masks: masks.map(({ from, to, upTo }) => ({ fromRad: from, toRad: to, upToM: upTo })),
      mount: { xM: mount.x, yM: mount.y },
      noise: { constantM: noise.constant, growthPerM: noise.growth },
      file: this.#file === undefined ? null : basename(this.#file),
    };
  }

  /** @throws {Fault} REQUEST_UNREADABLE, CONFIG_VALUE_BAD, and what a file can lack. */
  change(wish: unknown): object {
    const settings = settingsOf(wish);
    const sets = settings.map(({ path, value }) => `${path.join('.')}=${JSON.stringify(value)}`);
    const { sensor, clearance } = loadConfig(undefined, sets); // the one place that knows the limits
    if (this.#file !== undefined) writeSettings(this.#file, settings);
    for (const { path } of settings) {
      if (path[1] === 'masks') this.#sensor.masks = sensor.masks;
      else if (path[1] === 'no_return') this.#now = { ...this.#now, noReturn: clearance.noReturn };
      else this.#now = { ...this.#now, noReturnReach: clearance.noReturnReach };
    }
    this.#clearance.noReturn = this.#now.noReturn === 'clear' ? this.#now.noReturnReach : NaN;
    return this.read();
  }
}

/** @returns what a client wishes, in the names of the file. @throws {Fault} REQUEST_UNREADABLE. */
function settingsOf(wish: unknown): Setting[] {
  if (typeof wish !== 'object' || wish === null || Array.isArray(wish)) throw new Fault('REQUEST_UNREADABLE');
  const settings: Setting[] = [];
  for (const [name, value] of Object.entries(wish)) {
    if (name === 'noReturn') settings.push({ path: ['clearance', 'no_return'], value });
    else if (name === 'noReturnM') settings.push({ path: ['clearance', 'no_return_m'], value });
    else if (name === 'masks') settings.push({ path: ['sensor', 'masks'], value: masksOf(value) });
    else throw new Fault('REQUEST_UNREADABLE', { setting: name.slice(0, 40) });
  }
  if (settings.length === 0) throw new Fault('REQUEST_UNREADABLE', { reason: 'nothing to change' });
  return settings;
}

function masksOf(value: unknown): object[] {
  if (!Array.isArray(value) || value.length > MASKS_MOST) throw new Fault('REQUEST_UNREADABLE', { setting: 'masks' });
  return value.map((mask: unknown) => {
    if (typeof mask !== 'object' || mask === null) throw new Fault('REQUEST_UNREADABLE', { setting: 'masks' });
    const read = (name: string): number => {
      const number: unknown = Reflect.get(mask, name);
      if (typeof number !== 'number') throw new Fault('REQUEST_UNREADABLE', { setting: `masks.${name}` });
      return Math.round(number * 1e4) / 1e4; // a tenth of a millimetre and of a milliradian
    };
    return { from_rad: read('fromRad'), to_rad: read('toRad'), up_to_m: read('upToM') };
  });
}
