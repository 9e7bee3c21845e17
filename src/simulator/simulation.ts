import { wrapAngle } from '../core/angles.js';
import { Outline } from '../geometry/outline.js';
import { Mover, type MoverState } from './movers.js';
import { Random } from './random.js';
import { type BaseSetting, RoverBase, type Wheels } from './rover.js';
import { addStanding, type Scene, SceneBuilder } from './scene.js';
import { BLOOM } from './surface.js';
import type { DoorData, Place, World } from './world.js';

/** The rover as far as its world cares: SI, rover axes. */
export interface RoverSetting extends BaseSetting {
  readonly outline: readonly Place[];
}

export interface RoverPose {
  x: number;
  y: number;
  heading: number;
}

/** The rover touched something: when (s), what, and how fast it went (m/s). */
export interface Contact {
  readonly time: number;
  readonly thing: string;
  readonly speed: number;
}

const TICK = 0.005; // s; a swinging foot moves 1 cm in it
const ALL = { face: 0, round: 0 };
const DEAD_MAN = 0.3; // s without a command after which a driven rover brakes
const BODY: readonly [number, number] = [0.04, 0.4]; // m, from the rover's belly to its top: what is lower or higher it passes
const DOOR_TIME = 1.5; // s, to swing open or shut
const DOOR_GAP = 0.3; // m: a door stops so far from the rover
const DOOR_PARTS = [0.2, 0.4, 0.6, 0.8, 1];
const ROUTE_SPEED = 0.7; // of speedMax, when it goes its own round
const ROUTE_AHEAD = 0.5; // m: how far on the route it aims
const ROUTE_GAP = 0.5; // m of strip ahead that must be free on its round

/**
 * A world with a rover in it, as time goes on. What happens depends on world, settings, seed and the commands with their times
 * alone, never on how often or in what steps it is asked.
 */
export class Simulation {
  readonly world: World;
  readonly scene: Scene;
  /** Every contact so far, one for each time that the rover came to touch a thing. */
  readonly contacts: Contact[] = [];
  /** m gone over ground. */
  distance = 0;
  readonly #outline: Outline;
  readonly #setting: RoverSetting;
  readonly #movers: readonly Mover[];
  readonly #doors: readonly { readonly data: DoorData; readonly face: number; part: number }[];
  readonly #firstMoving: Readonly<{ face: number; round: number }>;
  readonly #base: RoverBase;
  readonly #commands: { at: number; speed: number; turn: number }[] = [];
  readonly #gap = (x: number, y: number): number => this.gapTo(x, y);
  #ticks = 0;
  #isDriven = false;
  #commandedAt = -Infinity;
  #leg = 0;
  #touching = '';

  constructor(world: World, setting: RoverSetting, seed: number) {
    this.world = world;
    this.#setting = setting;
    this.#outline = new Outline(setting.outline);
    this.#base = new RoverBase(setting, world.start, new Random(seed + 104_729));
    const builder = new SceneBuilder();
    addStanding(builder, world);
    this.#doors = world.doors.map((data) => ({
      data,
      face: builder.face(data.name, data.hinge, data.shut, data.surface, [0, 2.1]),
      part: 0, // shut
    }));
    const firstMoving = builder.counts;
    // a stream of numbers for each: what one of them does changes nothing for the others
    this.#movers = world.movers.map(
      (data, i) => new Mover(data, new Random(seed + 7919 * (i + 1)), builder, this.#gap),
    );
    this.#firstMoving = firstMoving;
    this.scene = builder.build();
    this.#place(0);
  }

  /** s since its beginning, of the newest tick. */
  get time(): number {
    return this.#ticks * TICK;
  }

  /** Whether commands have come: its own round is over. */
  get isDriven(): boolean {
    return this.#isDriven;
  }

  /** The rover now: pose, speed (m/s), turn (rad/s), and what its wheels have counted. */
  get rover(): Readonly<RoverPose & { speed: number; turn: number; wheels: Readonly<Wheels> }> {
    return this.#base;
  }

  get movers(): readonly (MoverState & { readonly laser: number })[] {
    return this.#movers;
  }

  /** Drives the rover from time `at` (s) on; the newest command counts for 0.3 s, and the rover's own round is over. */
  command(at: number, speed: number, turn: number): void {
    this.#commands.push({ at, speed, turn });
  }

  /** Lets time pass up to `time` (s); earlier: nothing happens. */
  advanceTo(time: number): void {
    const ticks = Math.floor(time / TICK + 1e-9);
    while (this.#ticks < ticks) this.#tick();
  }

  /** Writes the rover's pose at `time`, within a tick after the newest one. */
  poseAt(time: number, out: RoverPose): void {
    const { x, y, heading, speed, turn } = this.#base;
    const after = time - this.time;
    const middle = heading + (turn * after) / 2;
    out.x = x + speed * after * Math.cos(middle);
    out.y = y + speed * after * Math.sin(middle);
    out.heading = heading + turn * after;
  }

  /** @returns m, from the rover's outline to a place in the world; 0 inside. */
  gapTo(x: number, y: number): number {
    const { x: ox, y: oy, heading } = this.#base;
    const c = Math.cos(heading);
    const s = Math.sin(heading);
    return this.#outline.distance(c * (x - ox) + s * (y - oy), c * (y - oy) - s * (x - ox));
  }

  /**
   * The nearest thing that the rover's body could touch.
   * @param ahead m: not the outline but the strip that it sweeps when it goes so far straight on, `wider` m broader on each side.
   * @param isMoverOnly only people and carts count. @param within m, how far to look.
   * @returns gap (m, Infinity: none within) and name.
   */
  nearest({ ahead = 0, wider = 0, isMoverOnly = false, within = 3 } = {}): { gap: number; thing: string } {
    const outline = ahead === 0 && wider === 0 ? this.#outline : this.#strip(ahead, wider);
    const { faces, rounds, low, high, surface, names } = this.scene;
    const { x: ox, y: oy, heading } = this.#base;
    const c = Math.cos(heading);
    const s = Math.sin(heading);
    const far = outline.radius + within;
    const count = faces.length >> 2;
    const best = { gap: Infinity, thing: '' };
    const first = isMoverOnly ? this.#firstMoving : ALL;
    for (let k = first.face; k < count; k++) {
      if (low[k] > BODY[1] || high[k] < BODY[0] || surface[k] === BLOOM) continue;
      const x1 = c * (faces[4 * k] - ox) + s * (faces[4 * k + 1] - oy);
      const y1 = c * (faces[4 * k + 1] - oy) - s * (faces[4 * k] - ox);
      const x2 = c * (faces[4 * k + 2] - ox) + s * (faces[4 * k + 3] - oy);
      const y2 = c * (faces[4 * k + 3] - oy) - s * (faces[4 * k + 2] - ox);
      if (Math.min(x1, x2) > far || Math.max(x1, x2) < -far || Math.min(y1, y2) > far || Math.max(y1, y2) < -far)
        continue;
      const gap = outline.distanceToSegment(x1, y1, x2, y2);
      if (gap < best.gap) Object.assign(best, { gap, thing: names[k] });
    }
    for (let j = first.round; 3 * j < rounds.length; j++) {
      const k = count + j;
      if (low[k] > BODY[1] || high[k] < BODY[0]) continue;
      const x = c * (rounds[3 * j] - ox) + s * (rounds[3 * j + 1] - oy);
      const y = c * (rounds[3 * j + 1] - oy) - s * (rounds[3 * j] - ox);
      if (Math.abs(x) > far || Math.abs(y) > far) continue;
      const gap = Math.max(0, outline.distance(x, y) - rounds[3 * j + 2]);
      if (gap < best.gap) Object.assign(best, { gap, thing: names[k] });
    }
    return best;
  }

  #strip(ahead: number, wider: number): Outline {
    const x = this.#setting.outline.map((corner) => corner[0]);
    const y = this.#setting.outline.map((corner) => corner[1]);
    const left = Math.max(...y) + wider;
    const right = Math.min(...y) - wider;
    return new Outline([
      [Math.max(...x) + ahead, left],
      [Math.min(...x), left],
      [Math.min(...x), right],
      [Math.max(...x) + ahead, right],
    ]);
  }

  #tick(): void {
    const time = ++this.#ticks * TICK;
    for (const mover of this.#movers) mover.go(TICK, this.#gap);
    this.#steer(time);
    const { x, y, heading } = this.#base;
    this.#base.go(TICK, this.#isOnHose());
    this.#place(time);
    this.#touch(time, { x, y, heading });
    this.distance += Math.hypot(this.#base.x - x, this.#base.y - y);
  }

  #place(time: number): void {
    for (const mover of this.#movers) mover.place(this.scene);
    for (const door of this.#doors) {
      const { hinge, shut, opens, period } = door.data;
      const wanted = time % period < period / 2 ? 0 : 1;
      const next = door.part + Math.sign(wanted - door.part) * (TICK / DOOR_TIME);
      const width = Math.hypot(shut[0] - hinge[0], shut[1] - hinge[1]);
      const leaf = (part: number, along: number): Place => {
        const angle = Math.atan2(shut[1] - hinge[1], shut[0] - hinge[0]) + opens * part;
        return [hinge[0] + along * width * Math.cos(angle), hinge[1] + along * width * Math.sin(angle)];
      };
      const part = Math.min(1, Math.max(0, next));
      // it does not swing onto the rover
      if (part !== door.part && DOOR_PARTS.every((along) => this.gapTo(...leaf(part, along)) > DOOR_GAP))
        door.part = part;
      const [x, y] = leaf(door.part, 1);
      this.scene.faces[4 * door.face + 2] = x;
      this.scene.faces[4 * door.face + 3] = y;
    }
  }

  #steer(time: number): void {
    while (this.#commands.length > 0 && this.#commands[0].at <= time) {
      const command = this.#commands.shift();
      if (command === undefined) break;
      this.#isDriven = true;
      this.#commandedAt = command.at;
      this.#base.command(command.speed, command.turn);
    }
    if (!this.#isDriven) this.#followRoute();
    else if (time - this.#commandedAt > DEAD_MAN) this.#base.command(0, 0);
  }

  /** Goes round by the truth: somebody in the strip ahead makes it wait. */
  #followRoute(): void {
    const { route } = this.world;
    if (route.length < 2 || this.#ticks % 10 !== 0) return; // 20 times a second is enough
    const { x, y, heading } = this.#base;
    let [tx, ty] = route[this.#leg];
    if (Math.hypot(tx - x, ty - y) < ROUTE_AHEAD) {
      this.#leg = (this.#leg + 1) % route.length;
      [tx, ty] = route[this.#leg];
    }
    const off = wrapAngle(Math.atan2(ty - y, tx - x) - heading);
    const { speedMax, turnMax } = this.#setting;
    const isBlocked = this.nearest({ ahead: ROUTE_GAP, wider: 0.05, isMoverOnly: true }).gap === 0;
    const isAbeam = Math.abs(off) > 0.6; // turns on the spot
    this.#base.command(
      isBlocked || isAbeam ? 0 : ROUTE_SPEED * speedMax,
      isBlocked ? 0 : Math.max(-turnMax, Math.min(turnMax, 2 * off)),
    );
  }

  #isOnHose(): boolean {
    const { x, y } = this.#base;
    return this.world.hoses.some(({ points }) => {
      return points.some((b, i) => i > 0 && isNear(points[i - 1], b, x, y, 0.05));
    });
  }

  /** Nothing goes through anything: where the rover would, it stays where it was. */
  #touch(time: number, before: RoverPose): void {
    const speed = Math.abs(this.#base.speed);
    const { gap, thing } = this.nearest({ within: 0.01 });
    if (gap > 0) {
      this.#touching = '';
      return;
    }
    if (this.#touching === '') this.contacts.push({ time, thing, speed });
    this.#touching = thing;
    Object.assign(this.#base, before);
    this.#base.halt();
  }
}

function isNear(a: Place, b: Place, x: number, y: number, within: number): boolean {
  const ex = b[0] - a[0];
  const ey = b[1] - a[1];
  const along = Math.min(1, Math.max(0, ((x - a[0]) * ex + (y - a[1]) * ey) / (ex * ex + ey * ey)));
  return Math.hypot(x - a[0] - along * ex, y - a[1] - along * ey) < within;
}
