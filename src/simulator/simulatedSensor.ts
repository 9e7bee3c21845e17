import { TAU } from '../core/angles.js';
import { type Layout, triangulated } from '../device/layouts/layout.js';
import type { SensorSetting } from '../device/setting.js';
import { Beam, ECHO } from './beam.js';
import { castRay, type Hit, NOTHING } from './cast.js';
import type { WireSamples } from './encode.js';
import { Random } from './random.js';
import type { RoverPose, Simulation } from './simulation.js';
import { STRIP } from './surface.js';

/** What kind of sensor it is, and how good; SI, shares 0 to 1. */
export interface SensorModel {
  /** Turns a second, once it has run up. */
  readonly spin: number;
  /** Share by which the spin wavers, standard deviation. */
  readonly wobble: number;
  /** m: sigma(r) = hypot(noise, noiseGrowth r²). */
  readonly noise: number;
  /** 1/m */
  readonly noiseGrowth: number;
  /** m, step of the ranges it can tell; 0: as fine as its wire. */
  readonly quantum: number;
  /** Share of the samples without echo for no reason. */
  readonly dropped: number;
  /** Samples, mean length of a run of them. */
  readonly droppedRun: number;
  /** Share of the samples whose range is nonsense. */
  readonly strays: number;
  /** rad, width of the beam. */
  readonly beam: number;
  /** Share of the beams across an edge whose range lies between. */
  readonly mixed: number;
  /** m, nearest and farthest range. */
  readonly near: number;
  readonly far: number;
}

/** Good middle of what spins on small rovers: the noise and drop-outs of common practice, as in DEFAULT_NOISE. */
export const USUAL_SENSOR: SensorModel = {
  spin: 10,
  wobble: 0.002,
  noise: 0.005,
  noiseGrowth: 0.005 / 6,
  quantum: 0,
  dropped: 0.015,
  droppedRun: 1,
  strays: 0,
  beam: 0.003,
  mixed: 0.6,
  near: 0.05,
  far: 12,
};

export interface SensorParts {
  readonly layout: Pick<Layout, 'sense' | 'triangulation'>;
  /** Where the sensor sits, and what a tape would find: the simulator sees to it that the correction is right. */
  readonly setting: Pick<SensorSetting, 'mount' | 'range'>;
  readonly model: SensorModel;
  readonly simulation: Simulation;
  /** Samples a second. */
  readonly rate: number;
  /** s, by the simulation, of the first sample. */
  readonly began: number;
  readonly seed: number;
}

/** Samples as a layout sends them, and beside them what no program under test may see. */
export interface Measured extends WireSamples {
  readonly bearing: Float64Array;
  readonly range: Float64Array;
  readonly strength: Uint16Array;
  readonly start: Uint8Array;
  readonly truth: {
    /** s, by the simulation. */
    readonly time: Float64Array;
    /** Thing of the scene that the echo came from; cast.ts for the others. */
    readonly thing: Int32Array;
    /** m, along the beam to the thing, without noise; Infinity: none. */
    readonly range: Float64Array;
    /** One of ECHO. */
    readonly kind: Uint8Array;
    /** m, m, rad: the sensor's place and the beam's bearing in the world. */
    readonly x: Float64Array;
    readonly y: Float64Array;
    readonly bearing: Float64Array;
  };
}

const SPIN_FIRST = 0.5; // of the spin, when samples begin to come: such sensors send nothing while the motor stands
const SPIN_UP = 1; // s from there to the whole, evenly faster
const LOOKS = 3; // after which bearing and range of a triangulating sensor agree to 0.1 degree but at edges
const WOBBLE_TIME = 1; // s, how long the spin stays on one side
const DUST_RANGE = 0.6; // m, how far dust is seen
const DUST_STRAYS = 0.5; // share of the samples that end in it
const DUST_LOST = 0.3; // share that comes back from nothing any more
const GLARE_FIELD = 0.26; // rad (15 degrees): half the field of a receiver for another's light; common practice
const BRIGHT = 65535;

/**
 * A spinning range finder on a rover in a simulated world. What it measures depends on the simulation, the seed and the
 * number of samples alone, never on how they are asked for.
 */
export class SimulatedSensor {
  /** Whether something holds its motor. */
  isHeld = false;
  /** Whether it is in a cloud of dust. */
  isDusty = false;
  readonly #parts: SensorParts;
  readonly #random: Random;
  readonly #beam: Beam;
  readonly #hit: Hit = { range: 0, thing: NOTHING };
  readonly #pose: RoverPose = { x: 0, y: 0, heading: 0 };
  #index = 0;
  #spin: number;
  #waver = 0;
  #turned = 0;
  #turns = -1;
  #isDropping = false;

  constructor(parts: SensorParts) {
    this.#parts = parts;
    this.#random = new Random(parts.seed);
    this.#beam = new Beam(parts.simulation.scene, parts.model, this.#random);
    this.#spin = SPIN_FIRST * parts.model.spin;
  }

  /** Turns/s at the next sample. */
  get spin(): number {
    return this.#spin;
  }

  /** s since the first sample: when the next one is measured. */
  get time(): number {
    return this.#index / this.#parts.rate;
  }

  /** Measures the next `count` samples. */
  measure(count: number): Measured {
    const { rate, began, layout, simulation } = this.#parts;
    const sense = layout.sense === 'clockwise' ? -1 : 1;
    const out = columns(count);
    for (let i = 0; i < count; i++) {
      const time = began + this.#index++ / rate;
      out.bearing[i] = sense * TAU * (this.#turned - Math.floor(this.#turned));
      out.start[i] = Math.floor(this.#turned) > this.#turns ? 1 : 0;
      this.#turns = Math.floor(this.#turned);
      this.#turnOn(1 / rate);
      simulation.advanceTo(time);
      simulation.poseAt(time, this.#pose);
      out.truth.time[i] = time;
      this.#sample(out, i);
    }
    return out;
  }

  /** Lets the motor run for `dt` s. */
  #turnOn(dt: number): void {
    const { spin, wobble } = this.#parts.model;
    if (this.isHeld) {
      this.#spin = 0;
      return;
    }
    const keep = Math.exp(-dt / WOBBLE_TIME);
    if (wobble > 0) this.#waver = keep * this.#waver + wobble * Math.sqrt(1 - keep * keep) * this.#random.normal();
    this.#spin = Math.min(spin, this.#spin + ((1 - SPIN_FIRST) * spin * dt) / SPIN_UP);
    this.#turned += this.#spin * Math.max(0.5, 1 + this.#waver) * dt;
  }

  #sample(out: Measured, i: number): void {
    const { setting, model } = this.#parts;
    const { mount, range: tape } = setting;
    const { x, y, heading } = this.#pose;
    const c = Math.cos(heading);
    const s = Math.sin(heading);
    const sx = x + c * mount.x - s * mount.y;
    const sy = y + s * mount.x + c * mount.y;
    const angle = out.bearing[i];
    const ahead = heading + mount.yaw;
    const flip = mount.upsideDown ? -1 : 1;
    out.bearing[i] = this.#aside(sx, sy, ahead, flip, angle);
    const onRover = mount.yaw + flip * out.bearing[i];
    // nose down lowers what is ahead, left side up raises what is to the left; small angles
    const slope = Math.tan(mount.roll) * Math.sin(onRover) - Math.tan(mount.pitch) * Math.cos(onRover);
    const bearing = heading + onRover;
    const echo = this.#beam.send(sx, sy, mount.z, bearing, slope);
    const { truth } = out;
    truth.x[i] = sx;
    truth.y[i] = sy;
    truth.bearing[i] = bearing;
    truth.range[i] = echo.range;
    truth.thing[i] = echo.range < Infinity ? echo.thing : NOTHING;
    truth.kind[i] = echo.kind;
    const stray = this.#disturbed(sx, sy, bearing);
    const noise = this.#random.normal();
    if (stray === 0 || (Number.isNaN(stray) && !(echo.range >= model.near && echo.range < Infinity))) {
      truth.kind[i] = ECHO.none;
      out.bearing[i] = this.#toBearing(angle, Infinity);
      return;
    }
    const isStray = !Number.isNaN(stray);
    if (isStray) truth.kind[i] = ECHO.stray;
    const measured = isStray
      ? stray
      : echo.range + noise * Math.hypot(model.noise, model.noiseGrowth * echo.range ** 2);
    const told = model.quantum > 0 ? Math.round(measured / model.quantum) * model.quantum : measured;
    out.range[i] = Math.max(0, (told - tape.offset) / tape.scale);
    const isBright = !isStray && echo.thing >= 0 && this.#parts.simulation.scene.surface[echo.thing] === STRIP;
    out.strength[i] = isBright
      ? BRIGHT
      : Math.round((60 * Math.min(1, isStray ? 0.1 : echo.power)) / (1 + measured / 3));
  }

  /**
   * Turns a sensor's angle into where its beam looks: a triangulating one looks aside, by less the nearer the thing it hits.
   * @param ahead rad, in the world. @returns rad, about the sensor.
   */
  #aside(x: number, y: number, ahead: number, flip: number, angle: number): number {
    const { layout, setting, simulation } = this.#parts;
    if (!layout.triangulation || layout.triangulation.isDone) return angle;
    let bearing = this.#toBearing(angle, Infinity);
    for (let look = 1; look < LOOKS; look++) {
      castRay(simulation.scene, x, y, setting.mount.z, ahead + flip * bearing, 0, this.#hit);
      bearing = this.#toBearing(angle, this.#hit.range);
    }
    return bearing;
  }

  /** @returns rad, the bearing that the layout's triangulation makes of an angle and a range. */
  #toBearing(angle: number, range: number): number {
    const { sense, triangulation } = this.#parts.layout;
    return triangulation ? angle + (sense === 'clockwise' ? -1 : 1) * triangulated(triangulation, range) : angle;
  }

  /** @returns m, where something else than the echo is measured; 0: nothing is; NaN: the echo counts. */
  #disturbed(x: number, y: number, bearing: number): number {
    const { model, simulation } = this.#parts;
    const anywhere = (): number => model.near + (model.far - model.near) * this.#random.uniform();
    if (this.#isLost()) return 0;
    if (this.isDusty) {
      const chance = this.#random.uniform();
      if (chance < DUST_STRAYS) return model.near + (DUST_RANGE - model.near) * this.#random.uniform();
      if (chance < DUST_STRAYS + DUST_LOST) return 0;
    }
    if (model.strays > 0 && this.#random.uniform() < model.strays) return anywhere();
    const { sun } = simulation.world;
    if (sun.dropped > 0) {
      const off = away(bearing, sun.bearing) / sun.width;
      if (this.#random.uniform() < sun.dropped * Math.exp(-0.5 * off * off)) return 0;
    }
    for (const mover of simulation.movers) {
      if (mover.laser <= 0 || away(bearing, Math.atan2(mover.y - y, mover.x - x)) > GLARE_FIELD) continue;
      if (this.#random.uniform() < mover.laser) return anywhere();
    }
    return NaN;
  }

  /**
   * Drop-outs for no reason, in runs: a chain of two states whose share of the second is `dropped` and whose runs in it last
   * `droppedRun` samples on average.
   * @source Gilbert 1960, Bell Syst. Tech. J. 39(5):1253-1265, doi:10.1002/j.1538-7305.1960.tb03959.x.
   */
  #isLost(): boolean {
    const { dropped, droppedRun } = this.#parts.model;
    if (dropped <= 0) return false;
    const chance = this.#random.uniform();
    // runs of 1 are independent draws: the chain's own runs would be 1 / (1 - dropped) long
    const leave = Math.min(1 - dropped, 1 / droppedRun);
    const enter = dropped >= 1 ? 1 : (dropped * leave) / (1 - dropped);
    this.#isDropping = this.#isDropping ? chance >= leave : chance < enter;
    return this.#isDropping;
  }
}

/** @returns rad, between two bearings, 0 to π. */
function away(a: number, b: number): number {
  const turned = Math.abs(a - b) % TAU;
  return turned > TAU / 2 ? TAU - turned : turned;
}

function columns(count: number): Measured {
  return {
    count,
    bearing: new Float64Array(count),
    range: new Float64Array(count),
    strength: new Uint16Array(count),
    start: new Uint8Array(count),
    truth: {
      time: new Float64Array(count),
      thing: new Int32Array(count),
      range: new Float64Array(count),
      kind: new Uint8Array(count),
      x: new Float64Array(count),
      y: new Float64Array(count),
      bearing: new Float64Array(count),
    },
  };
}
