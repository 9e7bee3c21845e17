/**
 * What one sample says, after mounting, range correction, reach and masks (device/echoes.ts is the one place of these).
 * - `echo`: an accepted echo, also beyond the far end of reach.
 * - `empty`: received without an echo.
 * - `masked`: fell in a mask of the rover's own body; counts as one without echo, and never as received empty.
 * - `tooNear`: an echo nearer than reach that no mask explains.
 */
export const SAMPLE_KIND = { echo: 0, empty: 1, masked: 2, tooNear: 3 } as const;

/** The samples of one chunk of bytes, as columns, in the order in which they were measured. Fresh: the reader may keep it. */
export interface EchoBatch {
  readonly count: number;
  /** s[count], Clock time at which each sample was measured, never falling. */
  readonly time: Readonly<Float64Array>;
  /** rad[count], [-π, π), rover axes, about the sensor. */
  readonly bearing: Readonly<Float32Array>;
  /** m[count], corrected; Infinity where there is no echo (empty, masked). A tooNear sample keeps its range. */
  readonly range: Readonly<Float32Array>;
  /** [count], the sensor's own unit; 0 where the layout has none. */
  readonly strength: Readonly<Uint16Array>;
  /** SAMPLE_KIND[count]. */
  readonly kind: Readonly<Uint8Array>;
  /** [count], 1 on the first sample of a revolution by the sensor's own start mark, else 0. */
  readonly start: Readonly<Uint8Array>;
  /** Sense of the beam in rover axes: 1 counter-clockwise, -1 clockwise. */
  readonly sense: 1 | -1;
}
