/** Where the bytes come from. */
export type Source = 'serial' | 'run' | 'simulated';

/** What a client may do: see; also drive the simulated rover and report odometry; everything. */
export type TokenRole = 'watch' | 'drive' | 'admin';

/** The sensor and how it is mounted; SI, rover axes. */
export interface SensorConfig {
  readonly source: Source;
  /** Path of the serial port; always there when `source` is serial. */
  readonly port: string | undefined;
  /** Bits per second; undefined: what the layout says. */
  readonly baud: number | undefined;
  /** Name of a built-in layout, or the absolute path of a layout file (then it begins with a slash). */
  readonly layout: string;
  /** Values for options of the layout, by name; the layout says what it offers. */
  readonly layoutOptions: Readonly<Record<string, boolean | string | number>>;
  /** m and rad; applied in the order upside down, yaw, offset. */
  readonly mount: Readonly<{
    x: number;
    y: number;
    z: number;
    yaw: number;
    pitch: number;
    roll: number;
    upsideDown: boolean;
  }>;
  /** m, nearest and farthest range the sensor can be believed. */
  readonly reach: readonly [number, number];
  /** Absolute path of the report kept at bring-up, which later checks are compared with. */
  readonly baseline: string | undefined;
  /** Corrected range = scale · range + offset (m). */
  readonly range: Readonly<{ offset: number; scale: number }>;
  /** Standard deviation of a range: hypot(constant (m), growth (1/m) · range²). */
  readonly noise: Readonly<{ constant: number; growth: number }>;
  /** The rover's own body: from `from` counter-clockwise to `to` (rad, rover axes) out to `upTo` (m). */
  readonly masks: readonly Readonly<{ from: number; to: number; upTo: number }>[];
}

/** The rover; SI, rover axes. */
export interface RoverConfig {
  /** m, corners of a simple polygon that holds the rover's origin. */
  readonly outline: readonly (readonly [number, number])[];
  /** m/s */
  readonly speedMax: number;
  /** rad/s */
  readonly turnMax: number;
  /** m/s² */
  readonly brake: number;
  /** s */
  readonly reaction: number;
  readonly name: string;
}

export interface ServerConfig {
  readonly host: string;
  /** 0: any free port. */
  readonly port: number;
  readonly tokens: readonly Readonly<{ role: TokenRole; sha256: string }>[];
  readonly names: readonly string[];
  readonly clientsMax: number;
}

export interface ClearanceConfig {
  readonly sectors: number;
  /** What a sample received without an echo means. */
  readonly noReturn: 'unknown' | 'clear';
  /** m, how far such a sample vouches where it means clear. */
  readonly noReturnReach: number;
  /** m, below which a fall of leeway is told at once. */
  readonly urgent: number;
}

export interface RunsConfig {
  /** Absolute path. */
  readonly folder: string;
  /** From the start, or whenever the rover moves. */
  readonly record: boolean | 'moving';
  /** Bytes, s and bytes; limits of one file and of all of them, and what stays free on the disk. */
  readonly fileMax: number;
  readonly ageMax: number;
  readonly totalMax: number;
  readonly freeMin: number;
  /** With the source run: a name in the folder, or an absolute path (then it holds a slash); empty: the newest. */
  readonly play: string;
  /** How many times as fast; 0: as fast as it can. */
  readonly pace: number;
}

/** The simulated rover; SI. */
export interface SimulatorConfig {
  /** Name of a built-in world, or the absolute path of a world file (then it holds a slash). */
  readonly world: string;
  readonly seed: number;
  readonly sensor: Readonly<{
    spin: number;
    wobble: number;
    noise: number;
    noiseGrowth: number;
    quantum: number;
    dropped: number;
    droppedRun: number;
    strays: number;
    beam: number;
    mixed: number;
    near: number;
    far: number;
  }>;
}

/** The whole configuration in force: checked, in SI, frozen. The YAML names with their units are in schema.ts. */
export interface Config {
  readonly sensor: SensorConfig;
  readonly rover: RoverConfig;
  readonly server: ServerConfig;
  readonly clearance: ClearanceConfig;
  readonly runs: RunsConfig;
  readonly simulator: SimulatorConfig;
}
