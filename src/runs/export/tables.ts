import type { ServerMessage } from '../../messages/codec.js';
import type { RunNote } from '../format.js';

export type Cell = number | string | null;

/** A column: its unit is in its name. */
export interface Column {
  readonly name: string;
  readonly type: 'DOUBLE' | 'FLOAT' | 'INT32' | 'STRING';
}

const RUN: readonly Column[] = [
  { name: 'run', type: 'STRING' },
  { name: 'time_s', type: 'DOUBLE' }, // Unix time by the recorder's clock
];
const floats = (...names: readonly string[]): Column[] => names.map((name) => ({ name, type: 'FLOAT' }));
const whole = (...names: readonly string[]): Column[] => names.map((name) => ({ name, type: 'INT32' }));
const words = (...names: readonly string[]): Column[] => names.map((name) => ({ name, type: 'STRING' }));

/** The tables. Rover axes unless said otherwise; NULL: not measured, or none. */
export const TABLES = {
  echoes: [...RUN, ...whole('sweep'), ...floats('bearing_rad', 'range_m'), ...whole('strength')],
  sweeps: [...RUN, ...whole('sweep', 'samples', 'echoes'), ...floats('period_s')],
  clearance: [
    ...RUN,
    ...whole('sector'),
    ...floats('bearing_rad'), // the sector's middle
    ...words('state'),
    ...floats('leeway_m', 'nearest_m', 'age_s', 'thinnest_m', 'ahead_m'),
  ],
  walls: [
    ...RUN,
    ...whole('sweep', 'echoes'),
    ...floats(
      'normal_rad',
      'distance_m',
      'distance_sd_m',
      'normal_sd_rad',
      'x1_m',
      'y1_m',
      'x2_m',
      'y2_m',
      'roughness_m',
    ),
  ],
  movers: [
    ...RUN,
    ...whole('sweep', 'mover'),
    ...floats('x_m', 'y_m', 'vx_mps', 'vy_mps', 'width_m', 'age_s', 'confidence', 'closest_m', 'closest_in_s'),
  ],
  motion: [
    ...RUN,
    { name: 'x_m', type: 'DOUBLE' }, // pose since the start
    { name: 'y_m', type: 'DOUBLE' },
    { name: 'heading_rad', type: 'DOUBLE' },
    ...floats('vx_mps', 'vy_mps', 'turn_radps', 'x_sd_m', 'y_sd_m', 'heading_sd_rad', 'quality'),
  ],
  events: [...RUN, ...words('kind', 'text')],
} as const satisfies Record<string, readonly Column[]>;
export type TableName = keyof typeof TABLES;
export const TABLE_NAMES = Object.keys(TABLES) as TableName[];

const STATES = ['unknown', 'unknown', 'clear', 'obstacle']; // by number; 0: unspecified

/** Turns messages into rows of the tables. */
export class Rows {
  readonly #run: string;
  readonly #put: (table: TableName, row: readonly Cell[]) => void;
  readonly #wanted: ReadonlySet<TableName>;

  constructor(run: string, wanted: ReadonlySet<TableName>, put: (table: TableName, row: readonly Cell[]) => void) {
    this.#run = run;
    this.#wanted = wanted;
    this.#put = put;
  }

  take(message: ServerMessage): void {
    const at = message.timeS ?? 0;
    if (message.sweep) this.#sweep(message.sweep);
    else if (message.clearance && this.#wanted.has('clearance')) this.#clearance(message.clearance, at);
    else if (message.shapes && this.#wanted.has('walls')) this.#walls(message.shapes, at);
    else if (message.movers && this.#wanted.has('movers')) this.#movers(message.movers, at);
    else if (message.motion && this.#wanted.has('motion')) this.#motion(message.motion, at);
  }

  event({ at, kind, text }: RunNote): void {
    if (this.#wanted.has('events')) this.#put('events', [this.#run, at, kind, text]);
  }

  #sweep(sweep: NonNullable<ServerMessage['sweep']>): void {
    const { number, firstTimeS, periodS, bearingRad, rangeMm, strength } = sweep;
    const [first, period, ranges] = [firstTimeS ?? 0, periodS ?? 0, rangeMm ?? []];
    const n = ranges.length;
    let echoes = 0;
    for (let i = 0; i < n; i++) if (ranges[i] !== 0) echoes++;
    if (this.#wanted.has('sweeps')) this.#put('sweeps', [this.#run, first, number ?? 0, n, echoes, period]);
    if (!this.#wanted.has('echoes')) return;
    for (let i = 0; i < n; i++) {
      const range = ranges[i] === 0 ? null : ranges[i] / 1000;
      const at = first + (i * period) / n;
      this.#put('echoes', [this.#run, at, number ?? 0, bearingRad?.[i] ?? 0, range, strength?.[i] ?? 0]);
    }
  }

  #clearance(clearance: NonNullable<ServerMessage['clearance']>, at: number): void {
    const state = clearance.state ?? [];
    for (let k = 0; k < state.length; k++) {
      const bearing = (clearance.firstBearingRad ?? 0) + ((k + 0.5) * 2 * Math.PI) / state.length;
      this.#put('clearance', [
        ...[this.#run, at, k, bearing, STATES[state[k]] ?? 'unknown'],
        ...[clearance.leewayM?.[k] ?? 0, known(clearance.nearestM?.[k]), known(clearance.ageS?.[k])],
        ...[known(clearance.thinnestM?.[k]), clearance.aheadM ?? 0],
      ]);
    }
  }

  #walls({ sweep, walls }: NonNullable<ServerMessage['shapes']>, at: number): void {
    for (const wall of walls ?? [])
      this.#put('walls', [
        ...[this.#run, at, sweep ?? 0, wall.echoes ?? 0, wall.normalRad ?? 0, wall.distanceM ?? 0],
        ...[root(wall.distanceVar), root(wall.normalVar)],
        ...[wall.x1M ?? 0, wall.y1M ?? 0, wall.x2M ?? 0, wall.y2M ?? 0, known(wall.roughnessM)],
      ]);
  }

  #movers({ sweep, movers }: NonNullable<ServerMessage['movers']>, at: number): void {
    for (const mover of movers ?? [])
      this.#put('movers', [
        ...[this.#run, at, sweep ?? 0, mover.id ?? 0, mover.xM ?? 0, mover.yM ?? 0],
        ...[mover.vxMps ?? 0, mover.vyMps ?? 0, mover.widthM ?? 0, mover.ageS ?? 0, mover.confidence ?? 0],
        ...[known(mover.closestM), known(mover.closestInS)],
      ]);
  }

  #motion(motion: NonNullable<ServerMessage['motion']>, at: number): void {
    const [xx, , , yy, , hh] = motion.covariance ?? [];
    this.#put('motion', [
      ...[this.#run, at, motion.xM ?? 0, motion.yM ?? 0, motion.headingRad ?? 0],
      ...[motion.vxMps ?? 0, motion.vyMps ?? 0, motion.turnRadps ?? 0],
      ...[root(xx), root(yy), root(hh), motion.quality ?? 0],
    ]);
  }
}

/** Infinity and NaN are NULL: neither CSV nor JSON has them. */
function known(value: number | null | undefined): number | null {
  return typeof value === 'number' && Number.isFinite(value) ? value : null;
}

function root(variance: number | null | undefined): number | null {
  return known(Math.sqrt(variance ?? NaN));
}
