import type { Fault } from '../core/fault.js';
import type { Layout } from '../device/layouts/layout.js';
import type { SensorSetting } from '../device/setting.js';
import type { Sweep } from '../sweep/sweep.js';

/** What a look at the sensor gathered: some seconds of whole revolutions and of how the bytes came. Times s, Clock. */
export interface Look {
  /** `baud` is that of the line. */
  readonly layout: Layout;
  readonly setting: SensorSetting;
  readonly began: number;
  readonly ended: number;
  /** When the spin had become steady, or the patience for it ended; NaN: no sample came. */
  readonly settledAt: number;
  /** Every whole revolution since `began`. */
  readonly sweeps: readonly Sweep[];
  /** Numbers of the link from `settledAt` to the end. */
  readonly grown: Readonly<{ receivedBytes: number; skippedBytes: number; samples: number }>;
  /** [chunks] since `settledAt`: when each chunk of bytes came, and its length. */
  readonly arrivals: Readonly<{ at: readonly number[]; bytes: readonly number[] }>;
  /** Times without samples after the first one came. */
  readonly breaks: readonly Readonly<{ from: number; to: number }>[];
  /** How often the port went away. */
  readonly losses: number;
  /** What the link says is lasting. */
  readonly remarks: readonly Fault[];
}

/** @returns the revolutions measured after the spin had settled. */
export function settledSweeps({ sweeps, settledAt }: Look): readonly Sweep[] {
  return sweeps.filter((sweep) => sweep.firstTime >= settledAt);
}
