import type { Layout } from '../device/layouts/layout.js';
import type { SensorSetting } from '../device/setting.js';
import { castRay } from './cast.js';
import type { WireSamples } from './encode.js';
import { Nursery, ROVER_POSE } from './nursery.js';
import { Random } from './random.js';

const SPIN = 10; // turns/s
const SPIN_FIRST = 5; // turns/s, when samples begin to come: such sensors send nothing while the motor stands
const SPIN_UP = 1; // s from there to SPIN, evenly faster
const WOBBLE = 0.01; // turns either way, over WOBBLE_PERIOD: no motor runs quite evenly (0.16 % of the spin)
const WOBBLE_PERIOD = 4; // s
const DROPPED = 0.015; // share of samples without echo for no reason
const REACH = 12; // m
const NEAR = 0.05; // m, below which the sensor sees nothing
const NOISE_NEAR = 0.005; // m: sigma = hypot(NOISE_NEAR, NOISE_GROWTH r²), common practice for a small triangulating sensor
const NOISE_GROWTH = 0.005 / 6; // 1/m

export interface SensorTruth {
  readonly layout: Pick<Layout, 'sense'>;
  /** Where the sensor sits, and what a tape would find: the simulator sees to it that the correction is right. */
  readonly setting: Pick<SensorSetting, 'mount' | 'range'>;
  /** Samples a second. */
  readonly rate: number;
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
  readonly #x: number;
  readonly #y: number;
  #index = 0;
  #turns = -1;

  constructor(truth: SensorTruth) {
    this.#truth = truth;
    this.#random = new Random(truth.seed);
    const { mount } = truth.setting;
    const c = Math.cos(ROVER_POSE.heading);
    const s = Math.sin(ROVER_POSE.heading);
    this.#x = ROVER_POSE.x + c * mount.x - s * mount.y;
    this.#y = ROVER_POSE.y + s * mount.x + c * mount.y;
  }

  /** Turns/s at the next sample. */
  get spin(): number {
    return SPIN_FIRST + (SPIN - SPIN_FIRST) * Math.min(1, this.time / SPIN_UP);
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
      const turned = turnsAt(time);
      bearing[i] = sense * 2 * Math.PI * (turned - Math.floor(turned));
      start[i] = Math.floor(turned) > this.#turns ? 1 : 0;
      this.#turns = Math.floor(turned);
      this.#nursery.moveTo(time);
      const echo = this.#echo(
        castRay(this.#nursery.scene, this.#x, this.#y, ROVER_POSE.heading + mount.yaw + flip * bearing[i]),
      );
      range[i] = echo === 0 ? 0 : Math.max(0, (echo - tape.offset) / tape.scale);
      strength[i] = echo === 0 ? 0 : Math.round(60 / (1 + echo / 3));
    }
    return { count, bearing, range, strength, start };
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
function turnsAt(time: number): number {
  if (time < SPIN_UP) return SPIN_FIRST * time + ((SPIN - SPIN_FIRST) * time * time) / (2 * SPIN_UP);
  const spunUp = ((SPIN_FIRST + SPIN) / 2) * SPIN_UP;
  return spunUp + SPIN * (time - SPIN_UP) + WOBBLE * Math.sin((2 * Math.PI * (time - SPIN_UP)) / WOBBLE_PERIOD);
}
