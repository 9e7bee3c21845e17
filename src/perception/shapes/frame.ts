import { SAMPLE_KIND } from '../../sweep/echoBatch.js';

/**
 * One sweep freed of the rover's motion: every sample's point in the sensor's frame at one reference moment, rover axes.
 * In the order of measuring: bearings run one way round, by `sense`.
 */
export interface ShapeFrame {
  readonly count: number;
  /** rad[count], [-π, π), rover axes, about the sensor, at each sample's own time. */
  readonly bearing: Readonly<Float32Array>;
  /** m[count]; Infinity where there is no echo. */
  readonly range: Readonly<Float32Array>;
  /** SAMPLE_KIND[count]. */
  readonly kind: Readonly<Uint8Array>;
  /** m[count], the echo about the sensor at the reference moment, rover axes; anything where there is no echo. */
  readonly x: Readonly<Float32Array>;
  readonly y: Readonly<Float32Array>;
  /** 1 counter-clockwise, -1 clockwise. */
  readonly sense: 1 | -1;
}

/**
 * @throws {TypeError} columns of the wrong kind or length. {RangeError} an echo whose range or point is not finite or not
 * positive, bearings that do not run one way round within one turn: bugs of the caller, who counts and drops odd data.
 * @cost one pass.
 */
export function checkFrame(frame: ShapeFrame): void {
  const { count, bearing, range, kind, x, y, sense } = frame;
  if (!(bearing instanceof Float32Array && range instanceof Float32Array && kind instanceof Uint8Array)) {
    throw new TypeError('frame: bearing and range are Float32Array, kind Uint8Array');
  }
  if (!(x instanceof Float32Array && y instanceof Float32Array)) throw new TypeError('frame: x and y are Float32Array');
  if (sense !== 1 && sense !== -1) throw new TypeError(`frame: sense ${sense}`);
  const least = Math.min(bearing.length, range.length, kind.length, x.length, y.length);
  if (!(Number.isInteger(count) && count >= 0 && count <= least)) throw new RangeError(`frame: count ${count}`);
  let turned = 0;
  for (let i = 0; i < count; i++) {
    const b = bearing[i];
    if (!(b >= -4 && b <= 7)) throw new RangeError(`frame: bearing ${b} of sample ${i}`);
    if (i > 0) {
      let step = (b - bearing[i - 1]) * sense;
      if (step < -Math.PI) step += 2 * Math.PI; // past the seam of [-π, π)
      if (step < 0) throw new RangeError(`frame: bearing of sample ${i} runs against the sense`);
      turned += step;
    }
    if (
      kind[i] === SAMPLE_KIND.echo &&
      !(range[i] > 0 && range[i] < 1e6 && Math.abs(x[i]) < 1e6 && Math.abs(y[i]) < 1e6)
    ) {
      throw new RangeError(`frame: echo ${i} at range ${range[i]}, point ${x[i]}, ${y[i]}`);
    }
  }
  if (turned > 2 * Math.PI + 0.01) throw new RangeError(`frame: bearings turn by ${turned} rad`);
}
