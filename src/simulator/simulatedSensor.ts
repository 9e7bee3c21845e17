import { type Layout, triangulated } from '../device/layouts/layout.js';
import type { SensorSetting } from '../device/setting.js';
import { castRay } from './cast.js';
import type { WireSamples } from './encode.js';
import { Nursery, ROVER_POSE } from './nursery.js';
import { Random } from './random.js';

const SPIN = 10; // turns/s, where the layout does not fix the samples in a turn
const FIRST = 0.5; // of the spin, when samples begin to come: such sensors send nothing while the motor stands
const SPIN_UP = 1; // s from there to the whole spin, evenly faster
const WOBBLE = 0.01; // turns either way, over WOBBLE_PERIOD: no motor runs quite evenly (0.16 % of the spin)
const WOBBLE_PERIOD = 4; // s
const LOOKS = 3; // after which bearing and range of a triangulating sensor agree to 0.1 degree but at edges
const DROPPED = 0.015; // share of samples without echo for no reason
const REACH = 12; // m
const NEAR = 0.05; // m, below which the sensor sees nothing
const NOISE_NEAR = 0.005; // m: sigma = hypot(NOISE_NEAR, NOISE_GROWTH r²), common practice for a small triangulating sensor
const NOISE_GROWTH = 0.005 / 6; // 1/m

export interface SensorTruth {
  readonly layout: Pick<Layout, 'sense' | 'triangulation'>;
  /** Where the sensor sits, and what a tape would find: the simulator sees to it that the correction is right. */
  readonly setting: Pick<SensorSetting, 'mount' | 'range'>;
  /** Samples a second. */
  readonly rate: number;
  /** Turns/s once spun up. Default: 10. */
  readonly spin?: number;
  readonly seed: number;
}

/**
 * A spinning range finder in the nursery. What it measures depends on the seed and the number of samples alone, never on
 * how they are asked for. Pitch and roll of the mounting are not simulated: it is one level plane.
 */
export class SimulatedSensor {
  readonly #truth: SensorTruth;
  readonly #random: Random;
  readonly #nursery = new Nursery();
  readonly #spin: number;
  readonly #x: number;
  readonly #y: number;
  #index = 0;
  #turns = -1;

  constructor(truth: SensorTruth) {
    this.#truth = truth;
    this.#spin = truth.spin ?? SPIN;
    this.#random = new Random(truth.seed);
    const { mount } = truth.setting;
    const c = Math.cos(ROVER_POSE.heading);
    const s = Math.sin(ROVER_POSE.heading);
    this.#x = ROVER_POSE.x + c * mount.x - s * mount.y;
    this.#y = ROVER_POSE.y + s * mount.x + c * mount.y;
  }

  /** Turns/s at the next sample. */
  get spin(): number {
    return this.#spin * (FIRST + (1 - FIRST) * Math.min(1, this.time / SPIN_UP));
  }

  /** s since the first sample: when the next one is measured. */
  get time(): number {
    return this.#index / this.#truth.rate;
  }

  /** Measures the next `count` samples. */
  measure(count: number): Required<WireSamples> {
    const { layout, setting, rate } = this.#truth;
    const { mount, range: tape } = setting;
    const sense = layout.sense === 'clockwise' ? -1 : 1;
    const flip = mount.upsideDown ? -1 : 1;
    const bearing = new Float64Array(count);
    const range = new Float64Array(count);
    const strength = new Uint8Array(count);
    const start = new Uint8Array(count);
    for (let i = 0; i < count; i++) {
      const time = this.#index++ / rate;
      const turned = turnsAt(time, this.#spin);
      bearing[i] = sense * 2 * Math.PI * (turned - Math.floor(turned));
      start[i] = Math.floor(turned) > this.#turns ? 1 : 0;
      this.#turns = Math.floor(turned);
      this.#nursery.moveTo(time);
      const angle = bearing[i];
      const truth = this.#look(bearing, i, sense, ROVER_POSE.heading + mount.yaw, flip);
      const echo = this.#echo(truth);
      if (echo === 0) bearing[i] = this.#turned(angle, sense, Infinity);
      range[i] = echo === 0 ? 0 : Math.max(0, (echo - tape.offset) / tape.scale);
      strength[i] = echo === 0 ? 0 : Math.round(60 / (1 + echo / 3));
    }
    return { count, bearing, range, strength, start };
  }

  /**
   * Turns a sensor's angle into where its beam looks: a triangulating one looks aside, by less the nearer the thing it hits.
   * @returns m, to what it hits there; Infinity: nothing.
   */
  #look(bearing: Float64Array, i: number, sense: number, heading: number, flip: number): number {
    const { triangulation } = this.#truth.layout;
    const angle = bearing[i];
    const cast = (): number => castRay(this.#nursery.scene, this.#x, this.#y, heading + flip * bearing[i]);
    if (!triangulation || triangulation.isDone) return cast();
    let range = Infinity;
    for (let round = 0; round < LOOKS; round++) {
      bearing[i] = this.#turned(angle, sense, range);
      range = cast();
    }
    return range;
  }

  /** @returns rad, the bearing that a layout's triangulation makes of an angle. */
  #turned(angle: number, sense: number, range: number): number {
    const { triangulation } = this.#truth.layout;
    return triangulation ? angle + sense * triangulated(triangulation, range) : angle;
  }

  /** @param truth m, to what the beam hits. @returns m, what the sensor says; 0: no echo. Always three random numbers. */
  #echo(truth: number): number {
    const isDropped = this.#random.uniform() < DROPPED;
    const noise = this.#random.normal();
    if (isDropped || !(truth >= NEAR && truth <= REACH)) return 0;
    return truth + noise * Math.hypot(NOISE_NEAR, NOISE_GROWTH * truth * truth);
  }
}

/** Whole turns and part of one since the first sample; never falling. */
function turnsAt(time: number, spin: number): number {
  if (time < SPIN_UP) return spin * time * (FIRST + ((1 - FIRST) * time) / (2 * SPIN_UP));
  const spunUp = spin * ((FIRST + 1) / 2) * SPIN_UP;
  return spunUp + spin * (time - SPIN_UP) + WOBBLE * Math.sin((2 * Math.PI * (time - SPIN_UP)) / WOBBLE_PERIOD);
}
