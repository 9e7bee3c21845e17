import { dirname, resolve } from 'node:path';
import type { Config } from './config.js';
import { fileLayer, setLayer } from './layers.js';
import { type Layer, readOver, valueBad } from './read.js';
import { breachOf } from './rules.js';
import { presetOf, schema, type Value } from './schema.js';

const MB = 1e6; // bytes

/** A configuration, and what it says in the names of the file. */
export interface Settings {
  readonly config: Config;
  readonly written: Value<typeof schema>;
}

/**
 * The configuration in force: defaults, over them the file, over that each `KEY=VALUE` in order.
 *
 * @param file path of a YAML file; undefined: none.
 * @param sets `KEY=VALUE` with a dotted key and a YAML value.
 * @returns checked, in SI, frozen through and through. Paths in it are absolute.
 * @throws {Fault} CONFIG_UNREADABLE, CONFIG_YAML_BAD, CONFIG_KEY_UNKNOWN, CONFIG_VALUE_BAD, TOKENS_NEEDED; USAGE_WRONG
 *   for a set without `=`.
 */
export function loadConfig(file?: string, sets: readonly string[] = []): Config {
  return loadSettings(file, sets).config;
}

/**
 * As {@link loadConfig}.
 * @param under what a recorded run says of sensor, rover and clearance, in the names of the file: between the defaults and the file.
 */
export function loadSettings(file?: string, sets: readonly string[] = [], under?: unknown): Settings {
  const recorded: Layer[] = under === undefined ? [] : [{ raw: under, says: () => false, place: () => ({}) }];
  const layers = [...recorded, ...(file === undefined ? [] : [fileLayer(file)]), ...sets.map(setLayer)];
  let value = presetOf(schema);
  for (const layer of layers) value = readOver(schema, layer.raw, value, layer);
  const config = toConfig(value, file === undefined ? '.' : dirname(file));
  const breach = breachOf(config);
  if (breach) {
    const { path, value: found, limits } = breach;
    throw valueBad(
      path,
      found,
      limits,
      layers.findLast((layer) => layer.says(path)),
    );
  }
  return { config: freeze(config), written: value };
}

/** From the names of the file, which carry units, to the SI names inside. One line a key. */
function toConfig({ sensor, rover, server, clearance, runs, simulator }: Value<typeof schema>, folder: string): Config {
  const { mount } = sensor;
  return {
    sensor: {
      source: sensor.source,
      port: sensor.port,
      baud: sensor.baud,
      layout: /\/|\.ya?ml$/.test(sensor.layout) ? resolve(folder, sensor.layout) : sensor.layout,
      layoutOptions: sensor.layout_options,
      mount: {
        x: mount.x_m,
        y: mount.y_m,
        z: mount.z_m,
        yaw: mount.yaw_rad,
        pitch: mount.pitch_rad,
        roll: mount.roll_rad,
        upsideDown: mount.upside_down,
      },
      baseline: sensor.baseline === undefined ? undefined : resolve(folder, sensor.baseline),
      reach: sensor.reach_m,
      range: { offset: sensor.range.offset_m, scale: sensor.range.scale },
      noise: { constant: sensor.noise.constant_m, growth: sensor.noise.growth_per_m },
      masks: sensor.masks.map((mask) => ({ from: mask.from_rad, to: mask.to_rad, upTo: mask.up_to_m })),
    },
    rover: {
      outline: rover.outline_m,
      speedMax: rover.speed_max_mps,
      turnMax: rover.turn_max_radps,
      brake: rover.brake_mps2,
      reaction: rover.reaction_s,
      name: rover.name,
    },
    server: {
      host: server.host,
      port: server.port,
      tokens: server.tokens.map(({ role, sha256 }) => ({ role, sha256: sha256.toLowerCase() })),
      names: server.names.map((name) => name.toLowerCase()),
      clientsMax: server.clients_max,
    },
    clearance: {
      sectors: clearance.sectors,
      noReturn: clearance.no_return,
      noReturnReach: clearance.no_return_m,
      urgent: clearance.urgent_m,
    },
    runs: {
      folder: resolve(folder, runs.folder),
      record: runs.record,
      fileMax: runs.file_max_mb * MB,
      ageMax: runs.file_max_s,
      totalMax: runs.total_max_mb * MB,
      freeMin: runs.free_min_mb * MB,
      play: runs.play.includes('/') ? resolve(folder, runs.play) : runs.play,
      pace: runs.pace,
    },
    simulator: {
      world: simulator.world.includes('/') ? resolve(folder, simulator.world) : simulator.world,
      seed: simulator.seed,
      sensor: {
        spin: simulator.sensor.spin_hz,
        wobble: simulator.sensor.wobble,
        noise: simulator.sensor.noise_m,
        noiseGrowth: simulator.sensor.noise_growth,
        quantum: simulator.sensor.quantum_m,
        dropped: simulator.sensor.dropped,
        droppedRun: simulator.sensor.dropped_run,
        strays: simulator.sensor.strays,
        beam: simulator.sensor.beam_rad,
        mixed: simulator.sensor.mixed,
        near: simulator.sensor.near_m,
        far: simulator.sensor.far_m,
      },
    },
  };
}

function freeze<T>(value: T): T {
  if (typeof value !== 'object' || value === null) return value;
  for (const part of Object.values(value)) freeze(part);
  return Object.freeze(value);
}
