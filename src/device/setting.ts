/** A stretch of bearings that the rover's own body hides. */
export interface Mask {
  /** rad, rover axes, about the sensor; counter-clockwise from `from` to `to`, over the wrap if need be. */
  readonly from: number;
  readonly to: number;
  /** m; an echo up to here inside the stretch is the body's own. */
  readonly upTo: number;
}

/** How the sensor sits on the rover and how far it is believed. SI, rover axes. */
export interface SensorSetting {
  readonly mount: {
    readonly x: number;
    readonly y: number;
    readonly z: number;
    readonly yaw: number;
    readonly pitch: number;
    readonly roll: number;
    readonly upsideDown: boolean;
  };
  /** m: nearest and farthest range that can be believed. */
  readonly reach: readonly [near: number, far: number];
  /** Correction found with a tape: scale · range + offset (m). */
  readonly range: { readonly offset: number; readonly scale: number };
  readonly masks: readonly Mask[];
}
