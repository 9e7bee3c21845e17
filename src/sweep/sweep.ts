/** One whole revolution as it was measured, in the order of measuring. Fresh: the reader may keep it. */
export interface Sweep {
  /** Counts the whole revolutions since the daemon began, from 1. */
  readonly number: number;
  readonly count: number;
  /** s, Clock time of the first sample. */
  readonly firstTime: number;
  /** s, from the first sample to the first of the next revolution. */
  readonly period: number;
  readonly time: Readonly<Float64Array>;
  /** rad[count], [-π, π), rover axes, about the sensor. */
  readonly bearing: Readonly<Float32Array>;
  /** m[count], corrected; Infinity where there is no echo. */
  readonly range: Readonly<Float32Array>;
  readonly strength: Readonly<Uint16Array>;
  /** SAMPLE_KIND[count] of sweep/echoBatch.ts. */
  readonly kind: Readonly<Uint8Array>;
  readonly sense: 1 | -1;
}
