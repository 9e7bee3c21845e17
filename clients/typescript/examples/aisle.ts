// Creeps along the aisles of a nursery: slows by leeway, stops before people, goes round posts. NO SAFETY FUNCTION.
//
// It wants a daemon with `clearance: { no_return: clear, no_return_m: 0.6 }`: a beam that comes back empty then vouches for
// 0.6 m, more than the stopping distance of 0.225 m, and open ground beyond the sensor's reach does not stop the cart. The price:
// a pane met at a slant sends nothing back and is called clear too. What saves the cart is the one beam that meets the pane
// squarely: it does echo, and `slowest` heeds every sector that the cart comes nearer to, not only those straight ahead.
import { type Clearance, connect, type Rover } from '../src/client.js';

const SPEED = 0.5; // m/s; these three are those of the daemon's configuration (rover), which Hello tells as stop_m
const BRAKE = 1; // m/s²
const REACTION = 0.2; // s
const TURN = 1; // rad/s
const MARGIN = 0.08; // m, never used up: enough to turn on the spot and leave
const SWING = 0.26; // m, from the cart's middle to its corners: what turning sweeps
const LANE = 0.38; // m: half the width that it wants to have free where it goes
const VIEW = 1.8; // m: a longer way is no better
const NO_RETURN = 0.6; // m, how far a sector without any echo counts: the daemon's no_return_m
const LEAN = 0.12;
const PERIOD = 0.02; // s between commands

/** What to drive: m/s ahead and rad/s to the left. */
export interface Command {
  readonly speed: number;
  readonly turn: number;
}

/** Chooses where to go from nothing but the newest Clearance. */
export class AisleDriver {
  #time = 0; // s
  #goal = 0; // rad, where it wants to, rover axes
  #dark = 0; // s, how long anything on the side it goes to has been unknown
  #stuck = 0; // s without getting on; below 0: that long it still works its way out
  #side = 1; // to which it turns then
  #outAt = -Infinity; // s, when it last began to

  /** @returns the command for the next 20 ms; stands when anything it needs is not known. */
  next(rover: Rover): Command {
    const { clearance } = rover;
    if (rover.isStale || clearance === undefined) return { speed: 0, turn: 0 };
    this.#time += PERIOD;
    const bearings = clearance.state.map((_, k) => middle(clearance, k));
    this.#choose(clearance, bearings);
    const isDark = bearings.some((bearing, k) => Math.cos(bearing) > 0.1 && clearance.leewayM[k] === 0);
    this.#dark = isDark ? this.#dark + PERIOD : 0; // one lost revolution is no reason to stop for what is beside its way
    const ahead = stoppable(rover.leewayTowards(0, { closingSpeed: SPEED }) - MARGIN);
    const most = this.#dark > 0.3 ? 0 : Math.min(ahead, slowest(clearance, bearings));
    const turnMost = turnable(clearance);
    const isEcho = (k: number): boolean => clearance.state[k] === 'obstacle' && clearance.nearestM[k] > 1;
    const isOpen = bearings.every((bearing, k) => Math.abs(bearing) > 0.35 || isEcho(k));
    if (this.#stuck < 0) return this.#wayOut(rover, most, turnMost, isOpen);
    const speed = Math.abs(this.#goal) > 1.2 ? 0 : most * Math.cos(this.#goal);
    const turn = Math.max(-turnMost, Math.min(turnMost, 2 * this.#goal));
    this.#stuck = speed > 0.03 || Math.abs(turn) > 0.1 ? Math.max(0, this.#stuck - PERIOD) : this.#stuck + PERIOD;
    if (this.#stuck > 3) {
      this.#stuck = -8; // people have had the time to go on: it is something that stays
      const room = clearance.leewayM.reduce((sum, leeway, k) => sum + leeway * Math.sin(bearings[k]), 0);
      if (this.#time - this.#outAt > 20) this.#side = room > 0 ? 1 : -1; // else the same way on
      this.#outAt = this.#time;
    }
    return { speed, turn };
  }

  /** Turns on the spot until there is a way ahead; where it has no room for that, it first backs out, if that is vouched for. */
  #wayOut(rover: Rover, most: number, turnMost: number, isOpen: boolean): Command {
    this.#stuck = most > 0.15 && this.#stuck > -7 ? 0 : Math.min(0, this.#stuck + PERIOD);
    this.#goal = 0;
    const creep = Math.min(0.1, stoppable(rover.leewayTowards(0, { closingSpeed: SPEED }) - 0.03));
    if (isOpen && this.#stuck > -7) return { speed: creep, turn: 0 }; // narrow, but it leads out
    if (turnMost > 0.2) return { speed: 0, turn: this.#side * Math.min(0.8, turnMost) };
    return { speed: rover.leewayTowards(Math.PI, { closingSpeed: SPEED }) > 0.06 ? -0.1 : creep, turn: 0 };
  }

  /** Along the longest way: rather straight on, rather as before, and by turns rather left or right, to see every aisle. */
  #choose(clearance: Clearance, bearings: readonly number[]): void {
    const lean = LEAN * Math.sign(Math.sin(this.#time / 20));
    const choices = [0, ...bearings];
    const worth = choices.map((bearing) => {
      const change = 0.4 * Math.abs(bearing) + 0.2 * away(bearing, this.#goal);
      return freeWay(clearance, bearings, bearing) - change + lean * Math.sin(bearing);
    });
    const best = choices[worth.indexOf(Math.max(...worth))];
    this.#goal = wrap(this.#goal + 0.1 * wrap(best - this.#goal)); // 0.2 s: no jumping between two that are as good
  }
}

/** @returns m, how far a lane towards `towards` is free, by the nearest echo of every sector. To choose by, not to stop by. */
function freeWay({ state, nearestM }: Clearance, bearings: readonly number[], towards: number): number {
  let least = VIEW;
  for (const [k, bearing] of bearings.entries()) {
    const along = Math.cos(bearing - towards);
    if (along < 0.1) continue;
    const range = state[k] === 'unknown' ? 0 : Math.min(nearestM[k], state[k] === 'clear' ? NO_RETURN : VIEW);
    if (range * along < least && range * Math.abs(Math.sin(bearing - towards)) < LANE) least = range * along;
  }
  return least;
}

/** @returns m/s from which the cart stops within `way`: of v t + v² / (2 a) = way. */
function stoppable(way: number): number {
  if (!(way > 0)) return 0;
  return Math.min(SPEED, BRAKE * (Math.sqrt(REACTION * REACTION + (2 * way) / BRAKE) - REACTION));
}

/** @returns m/s at which it could stop short of the nearest thing in every sector that it comes nearer to. */
function slowest({ leewayM }: Clearance, bearings: readonly number[]): number {
  return bearings.reduce((least, bearing, k) => {
    const nearing = Math.cos(bearing);
    if (nearing < 0.1 || leewayM[k] === 0) return least; // what is unknown ahead has stopped it already
    return Math.min(least, stoppable(leewayM[k] - MARGIN) / nearing);
  }, SPEED);
}

/** @returns rad/s at which its corners come no nearer to anything than it has room for. */
function turnable({ state, leewayM }: Clearance): number {
  const least = leewayM.reduce((least, leeway) => (leeway === 0 ? least : Math.min(least, leeway)), 1);
  const isSure = state.every((each) => each !== 'unknown');
  return Math.max(0, Math.min(isSure ? TURN : 0.6, least / (SWING * 0.4)));
}

function middle({ firstBearingRad, state }: Clearance, k: number): number {
  return wrap(firstBearingRad + ((k + 0.5) * 2 * Math.PI) / state.length);
}

function wrap(angle: number): number {
  return angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI));
}

function away(a: number, b: number): number {
  return Math.abs(wrap(a - b));
}

/** Drives until the process ends. @param url of the daemon. @param token of the role drive, where the daemon asks for one. */
export function driveAisle(url: string, token?: string): void {
  const rover = connect(url, token === undefined ? {} : { token });
  const driver = new AisleDriver();
  console.log('No safety function. A beam without echo counts as 0.6 m of way: a pane met at a slant is called clear.');
  rover.on('connection', (isConnected, reason) => console.log(isConnected ? 'connected' : `not connected ${reason}`));
  rover.on('hello', ({ stopM, role }) => {
    const own = SPEED * REACTION + SPEED ** 2 / (2 * BRAKE);
    if (Math.abs(stopM - own) > 1e-3)
      console.log(`the daemon reckons with ${stopM} m to stop, this with ${own} m: one is wrong`);
    if (role === 'watch') console.log('this token may watch, not drive');
  });
  setInterval(() => {
    const { speed, turn } = driver.next(rover);
    rover.send({ drive: { vxMps: speed, turnRadps: turn } });
  }, PERIOD * 1000);
}
