import {
  choice,
  flag,
  group,
  leaf,
  list,
  type Node,
  neededNumber,
  number,
  pair,
  text,
  type Value,
  whole,
} from './nodes.js';

export * from './nodes.js';

const PATH = /^[^\0]{1,4096}$/;
const isMapOfPlain = (value: unknown): boolean =>
  typeof value === 'object' &&
  value !== null &&
  !Array.isArray(value) &&
  Object.values(value).every((part) => ['boolean', 'string', 'number'].includes(typeof part));
const HALF_TURN = Math.PI + 1e-4; // half a turn as people write it, 3.1416, must pass
const TURN = 2 * HALF_TURN;

/**
 * Every key of the configuration file, once: default, unit, limits, why.
 * Names carry their unit as on every border; `load.ts` turns them into the SI names of {@link Config}.
 * Limits are wide: they catch slips (centimetres, degrees, a lost point), not odd rovers.
 */
export const schema = group({
  sensor: group({
    source: choice(['serial', 'run', 'simulated'], { preset: 'simulated', why: 'where the bytes come from' }),
    port: text(
      {
        preset: undefined as string | undefined,
        why: 'serial port; a name under /dev/serial/by-id stays the same after replugging',
      },
      'a path',
      PATH,
    ),
    baud: whole(
      { preset: undefined as number | undefined, why: "line rate; the layout's own where it is not set" },
      'bit/s',
      1200,
      4_000_000,
    ),
    layout: text(
      { preset: 'sample5', why: 'wire layout of the sensor: a built-in name, or the path of a layout file' },
      'a name or a path',
      PATH,
    ),
    layout_options: leaf<Readonly<Record<string, boolean | string | number>>>(
      {
        preset: {},
        why: 'what is not the same for all sensors of the layout; `check` finds some of it at a straight wall',
      },
      '',
      'a map of options of the layout to true, false, text or numbers',
      isMapOfPlain,
    ),
    mount: group({
      x_m: number({ preset: 0, why: "the sensor's axis ahead of the rover's origin" }, 'm', -10, 10),
      y_m: number({ preset: 0, why: 'to the left of it' }, 'm', -10, 10),
      z_m: number({ preset: 0.15, why: 'height of the plane it sees, above the floor' }, 'm', -1, 10),
      yaw_rad: number({ preset: 0, why: 'turn to the left; found by check --aim' }, 'rad', -TURN, TURN),
      pitch_rad: number({ preset: 0, why: 'nose down; found by check --level' }, 'rad', -HALF_TURN / 2, HALF_TURN / 2),
      roll_rad: number(
        { preset: 0, why: 'left side up; found by check --level' },
        'rad',
        -HALF_TURN / 2,
        HALF_TURN / 2,
      ),
      upside_down: flag({ preset: false, why: 'mounted head down: turned about the x axis before yaw' }),
    }),
    baseline: text(
      {
        preset: undefined as string | undefined,
        why: 'report of bring-up, which later checks are compared with; check --report FILE.html --write writes it',
      },
      'a path',
      PATH,
    ),
    reach_m: pair({ preset: [0.15, 12], why: 'nearest and farthest range the sensor can be believed' }, 'm', 0, 200),
    range: group({
      offset_m: number({ preset: 0, why: 'added to every range; found with a tape' }, 'm', -1, 1),
      scale: number({ preset: 1, why: 'every range is multiplied by it first; found with a tape' }, '', 0.5, 2),
    }),
    noise: group({
      constant_m: number({ preset: 0.005, why: 'standard deviation of a near range' }, 'm', 0.0005, 0.2),
      growth_per_m: number({ preset: 0.000833, why: 'what it grows by with the square of the range' }, '1/m', 0, 0.05),
    }),
    masks: list(
      group({
        from_rad: neededNumber('where the mask begins, rover axes', 'rad', -TURN, TURN),
        to_rad: neededNumber('where it ends, counter-clockwise from there', 'rad', -TURN, TURN),
        up_to_m: neededNumber('echoes up to this range are the body', 'm', 0, 10),
      }),
      { preset: [], why: "the rover's own body as the sensor sees it; what falls in a mask is no evidence" },
      0,
      64,
    ),
  }),
  rover: group({
    outline_m: list(
      pair({ preset: [NaN, NaN], why: 'one corner [x, y]' }, 'm', -10, 10),
      {
        preset: [
          [0.2, 0.16],
          [-0.2, 0.16],
          [-0.2, -0.16],
          [0.2, -0.16],
        ],
        why: 'corners of the outline, rover axes, in order; it must hold the origin. Leeway is counted from it',
      },
      3,
      64,
    ),
    speed_max_mps: number(
      { preset: 0.5, why: 'what the rover can do: evidence ages by it while its motion is not known' },
      'm/s',
      0,
      20,
    ),
    turn_max_radps: number({ preset: 1.0, why: 'the same for turning' }, 'rad/s', 0, 20),
    brake_mps2: number(
      { preset: 1.0, why: 'how hard it brakes: stopping distance v t + v^2 / (2 a)' },
      'm/s^2',
      0.01,
      50,
    ),
    reaction_s: number({ preset: 0.2, why: 'time t until it begins to brake' }, 's', 0, 5),
    name: text(
      { preset: 'rover', why: 'shown to people and clients' },
      '1 to 64 printable characters',
      /^[^\p{C}]{1,64}$/u,
    ),
  }),
  server: group({
    host: text(
      { preset: '127.0.0.1', why: 'address to listen on; anything but this machine itself needs tokens' },
      'an address or host name',
      /^[0-9A-Za-z.:_%-]{1,253}$/,
    ),
    port: whole({ preset: 5339, why: 'TCP port to listen on; 0 takes any free one' }, '', 0, 65_535),
    tokens: list(
      group({
        role: choice(['watch', 'drive', 'admin'], { preset: 'watch', why: 'what the holder may do' }, true),
        sha256: text(
          { preset: '', why: "SHA-256 of the token's text" },
          '64 hexadecimal digits, in quotes',
          /^[0-9A-Fa-f]{64}$/,
          true,
        ),
      }),
      { preset: [], why: 'who may connect; needed as soon as host is not this machine itself' },
      0,
      256,
    ),
    names: list(
      text({ preset: '', why: 'one host name' }, 'a host name without port', /^[0-9A-Za-z._-]{1,253}$/),
      { preset: [], why: 'host names under which the page may be opened' },
      0,
      64,
    ),
    clients_max: whole({ preset: 256, why: 'connections beyond it are refused' }, '', 1, 10_000),
  }),
  clearance: group({
    sectors: whole({ preset: 72, why: 'sectors of the circle; each as wide as 2 pi / sectors' }, '', 8, 360),
    no_return: choice(['unknown', 'clear'], {
      preset: 'unknown',
      why: 'what a sample received without an echo means; glass and black cloth give none',
    }),
    no_return_m: number({ preset: 3, why: 'with clear: how far such a sample vouches' }, 'm', 0, 200),
    urgent_m: number({ preset: 2, why: 'a fall of leeway below this is told at once' }, 'm', 0, 200),
  }),
  runs: group({
    folder: text(
      {
        preset: 'runs',
        why: "where runs are kept; relative to this file's folder, without a file to the working folder",
      },
      'a path',
      PATH,
    ),
    record: leaf<boolean | 'moving'>(
      { preset: false, why: 'record from the start, or whenever the rover moves' },
      '',
      'true, false or moving',
      (value) => typeof value === 'boolean' || value === 'moving',
    ),
    file_max_mb: number({ preset: 512, why: 'a run that grows beyond it goes on in a new file' }, 'MB', 0.1, 1e6),
    file_max_s: number({ preset: 3600, why: 'the same for its length' }, 's', 1, 1e7),
    total_max_mb: number(
      { preset: 8192, why: 'when all runs take more, the oldest that are not pinned are deleted' },
      'MB',
      0.1,
      1e9,
    ),
    free_min_mb: number({ preset: 256, why: 'recording stops before less than this is free' }, 'MB', 0, 1e6),
    play: text(
      { preset: '', why: 'with sensor.source: run, the run to play: a name in the folder, a path; empty: the newest' },
      'a name or a path',
      /^[^\0]{0,4096}$/,
    ),
    pace: number({ preset: 1, why: 'how many times as fast as it was; 0: as fast as it can' }, '', 0, 1000),
  }),
  simulator: group({
    world: text(
      { preset: 'nursery', why: 'where the simulated rover stands: nursery, hall, shed, or the path of a world file' },
      'a name or a path',
      PATH,
    ),
    seed: whole({ preset: 1, why: 'the same seed shows the same walks and the same noise' }, '', 0, 4_294_967_295),
    sensor: group({
      spin_hz: number({ preset: 10, why: 'turns a second of the simulated sensor' }, 'Hz', 0.1, 100),
      wobble: number({ preset: 0.002, why: 'share by which its spin wavers' }, '', 0, 0.3),
      noise_m: number(
        { preset: 0.005, why: 'sigma of its ranges near by; farther off hypot(noise_m, noise_growth r^2)' },
        'm',
        0,
        1,
      ),
      noise_growth: number(
        { preset: 0.000_833, why: 'how the sigma grows with the square of the range' },
        '1/m',
        0,
        0.1,
      ),
      quantum_m: number({ preset: 0, why: 'step of its ranges; 0: as fine as the layout' }, 'm', 0, 1),
      dropped: number({ preset: 0.015, why: 'share of its samples that lose their echo' }, '', 0, 1),
      dropped_run: number({ preset: 1, why: 'how many in a row lose it, on average' }, '', 1, 1000),
      strays: number({ preset: 0, why: 'share of its samples whose range is nonsense' }, '', 0, 1),
      beam_rad: number(
        { preset: 0.003, why: 'width of its beam; across an edge it may give a range between' },
        'rad',
        0,
        0.1,
      ),
      mixed: number({ preset: 0.6, why: 'share of the beams across an edge that do so' }, '', 0, 1),
      near_m: number({ preset: 0.05, why: 'below it there is no echo' }, 'm', 0, 10),
      far_m: number({ preset: 12, why: 'out to here a white wall that is met squarely gives one' }, 'm', 0.1, 200),
    }),
  }),
});

/** One row of the schema. `path` has dots; items of a list follow `[]`. */
export interface KeyRow {
  readonly path: string;
  readonly node: Node;
}

/** @returns every key below a node, groups and lists too, in the order of the schema. */
export function everyKey(node: Node = schema, path = ''): readonly KeyRow[] {
  if (node.kind === 'leaf') return [];
  if (node.kind === 'list') return everyKey(node.of, `${path}[]`);
  if (node.kind === 'maybe') return everyKey(node.of, path);
  if (node.kind === 'table') return everyKey(node.of, `${path}.*`);
  return Object.entries(node.keys).flatMap(([key, child]) => {
    const childPath = path === '' ? key : `${path}.${key}`;
    return [{ path: childPath, node: child }, ...everyKey(child, childPath)];
  });
}

/** @returns what the node reads where nobody says anything. */
export function presetOf<N extends Node>(node: N): Value<N> {
  const value =
    node.kind === 'group'
      ? Object.fromEntries(Object.entries(node.keys).map(([key, child]) => [key, presetOf(child)]))
      : node.kind === 'maybe'
        ? undefined
        : node.kind === 'table'
          ? {}
          : node.preset;
  return value as Value<N>; // the one place where the table's type and its data meet
}
