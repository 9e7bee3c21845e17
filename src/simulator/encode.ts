import type { Layout } from '../device/layouts/layout.js';

/** Samples in the order of measuring, about the sensor, in the sensor's own right-handed axes (x ahead, y left, upright). */
export interface WireSamples {
  readonly count: number;
  /** rad, counter-clockwise from x, any turn; the encoder turns it into the layout's own sense. */
  readonly bearing: Readonly<ArrayLike<number>>;
  /** m; 0 or Infinity: no echo. */
  readonly range: Readonly<ArrayLike<number>>;
  /** The layout's own unit; 0 where absent. */
  readonly strength?: Readonly<ArrayLike<number>>;
  /** 1 on the first sample of a revolution. */
  readonly start?: Readonly<ArrayLike<number>>;
}

/**
 * Turns samples into a layout's bytes, driven by the same declaration as the decoder. Samples that do not fill a packet
 * wait for the next call.
 */
export declare class WireEncoder {
  constructor(layout: Layout);
  /** Bytes a sample costs on the wire, on average. */
  readonly bytesPerSample: number;
  /** @param time s, when the first sample of `samples` was measured (for layouts that carry a time). @param spin turns/s (for layouts that carry a speed). */
  encode(samples: WireSamples, time: number, spin: number): Uint8Array;
}
