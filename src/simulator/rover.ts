import { wrapAngle } from '../core/angles.js';
import type { Random } from './random.js';

/** What the rover's base can do; SI. */
export interface BaseSetting {
  readonly speedMax: number;
  readonly turnMax: number;
  /** m/s² */
  readonly brake: number;
}

const SPEED_UP = 0.6; // m/s²: small geared motors under load, common practice
const TURN_UP = 3; // rad/s²
const TRACK = 0.28; // m, between the wheels
const WHEEL_STEP = 0.0005; // m of way a count of a wheel's encoder
const SLIP = 0.01; // standard deviation of each wheel's slip on dry floor
const SLIP_TIME = 1; // s, how long one stretch of floor lasts
const HOSE_SLIP = 0.1; // on a hose

/** Dead reckoning of the wheels alone: m, m, rad since the start. */
export interface Wheels {
  x: number;
  y: number;
  heading: number;
}

/** A base with two driven wheels: follows commands within its limits, slips a little, and counts its wheels' turns. */
export class RoverBase {
  x: number;
  y: number;
  heading: number;
  /** m/s and rad/s over ground. */
  speed = 0;
  turn = 0;
  /** What the wheels' counts add up to: slip is not in it. */
  readonly wheels: Wheels = { x: 0, y: 0, heading: 0 };
  readonly #setting: BaseSetting;
  readonly #random: Random;
  readonly #slip = [0, 0];
  readonly #rolled = [0, 0];
  readonly #counted = [0, 0];
  #wantedSpeed = 0;
  #wantedTurn = 0;
  #drivenSpeed = 0;
  #drivenTurn = 0;

  constructor(setting: BaseSetting, start: { x: number; y: number; heading: number }, random: Random) {
    this.#setting = setting;
    this.#random = random;
    this.x = start.x;
    this.y = start.y;
    this.heading = start.heading;
  }

  /** What it should do from now on; what it cannot do is cut to its limits, what is no number counts as 0. */
  command(speed: number, turn: number): void {
    const { speedMax, turnMax } = this.#setting;
    this.#wantedSpeed = within(speed, speedMax);
    this.#wantedTurn = within(turn, turnMax);
  }

  /** Stands at once: something is in the way. */
  halt(): void {
    this.#drivenSpeed = this.#drivenTurn = this.speed = this.turn = 0;
  }

  /** @param dt s. @param onHose whether a wheel is on one. */
  go(dt: number, onHose: boolean): void {
    const { brake } = this.#setting;
    const isBraking = this.#drivenSpeed * (this.#wantedSpeed - this.#drivenSpeed) < 0;
    this.#drivenSpeed = towards(this.#drivenSpeed, this.#wantedSpeed, (isBraking ? brake : SPEED_UP) * dt);
    this.#drivenTurn = towards(this.#drivenTurn, this.#wantedTurn, TURN_UP * dt);
    const gone = [0, 0];
    for (const [side, sign] of [
      [0, -1],
      [1, 1],
    ]) {
      const wheel = this.#drivenSpeed + (sign * this.#drivenTurn * TRACK) / 2;
      const keep = Math.exp(-dt / SLIP_TIME);
      this.#slip[side] = keep * this.#slip[side] + SLIP * Math.sqrt(1 - keep * keep) * this.#random.normal();
      // a wheel that slips goes less far than it rolls, never farther
      gone[side] = wheel * (1 - Math.min(1, Math.abs(this.#slip[side]) + (onHose ? HOSE_SLIP : 0)));
      this.#rolled[side] += wheel * dt;
    }
    this.speed = (gone[0] + gone[1]) / 2;
    this.turn = (gone[1] - gone[0]) / TRACK;
    move(this, this.speed * dt, this.turn * dt);
    this.#count();
  }

  #count(): void {
    const counted = this.#rolled.map((way) => Math.floor(way / WHEEL_STEP) * WHEEL_STEP);
    const left = counted[0] - this.#counted[0];
    const right = counted[1] - this.#counted[1];
    this.#counted[0] = counted[0];
    this.#counted[1] = counted[1];
    move(this.wheels, (left + right) / 2, (right - left) / TRACK);
  }
}

/** Goes `way` m while turning by `turned` rad: the chord leads half way between old and new heading. */
function move(place: Wheels, way: number, turned: number): void {
  const middle = place.heading + turned / 2;
  place.x += way * Math.cos(middle);
  place.y += way * Math.sin(middle);
  place.heading = wrapAngle(place.heading + turned);
}

function within(value: number, most: number): number {
  return Number.isNaN(value) ? 0 : Math.min(most, Math.max(-most, value));
}

function towards(value: number, wanted: number, step: number): number {
  return value < wanted ? Math.min(wanted, value + step) : Math.max(wanted, value - step);
}
