import { AisleDriver } from '../../clients/typescript/examples/aisle.js';
import { connect, type Rover } from '../../clients/typescript/src/client.js';
import { clearanceSetting, helloFacts, perceptionSetting } from '../../src/cli/compose.js';
import { type SimulatedRover, simulatedRover } from '../../src/cli/simulation.js';
import { loadConfig } from '../../src/config/load.js';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import { openLink } from '../../src/device/link.js';
import { type Daemon, startDaemon } from '../../src/pipeline/daemon.js';
import { castRay } from '../../src/simulator/cast.js';
import { Random } from '../../src/simulator/random.js';
import { SENSOR_FAULTS, type SensorFault } from '../../src/simulator/simulatedPort.js';
import type { Contact } from '../../src/simulator/simulation.js';
import { GLASS } from '../../src/simulator/surface.js';
import { type FakeClock, fakeClock } from './fakeClock.js';
import { socketTo } from './inProcessSocket.js';

export interface DriveOptions {
  readonly seed: number;
  readonly minutes: number;
  readonly world?: string;
  /** Whether the sensor fails at random moments. */
  readonly faults?: boolean;
  /** Drives instead of the example: to see that contacts are counted. */
  readonly driver?: { next(rover: Rover): { speed: number; turn: number } };
  readonly sets?: readonly string[];
  /** Called 10 times a simulated second. */
  readonly onLook?: (rig: {
    rover: Rover;
    simulated: SimulatedRover;
    time: number;
    command: { speed: number; turn: number };
  }) => void;
}

export interface DriveReport {
  readonly seed: number;
  readonly minutes: number;
  readonly contacts: number;
  readonly standstills_over_20s: number;
  /** Of the speed limit, while nothing stands or walks in the next metre ahead and nobody is within 1.5 m. */
  readonly mean_speed_share: number;
  readonly distance_m: number;
}

/** What else is worth knowing of a drive; told to people, not part of the one line. */
export interface DriveDetails {
  readonly contacts: readonly Contact[];
  /** Share of the time that counted for the speed. */
  readonly freeShare: number;
  /** s, the longest time within 10 cm, with or without a cause. */
  readonly longestStill: number;
  /** Where it stood too long, s and m. */
  readonly standstills: readonly { at: number; x: number; y: number }[];
  /** Of each fault: m from its onset to where the rover first stood, and m gone until it was over. */
  readonly faults: readonly FaultSeen[];
  /** Panes that a CLEAR sector reached through: share of the looks with the pane nearer than no_return_m, and the least gap. */
  readonly lies: ReadonlyMap<string, { looks: number; gap: number }>;
  readonly looks: number;
}

interface FaultSeen {
  readonly kind: SensorFault;
  readonly at: number;
  /** m/s at its onset. */
  readonly speed: number;
  stopped: number;
  gone: number;
}

const PERIOD = 0.02; // s between commands, as the example does it
const LOOKS = 5; // periods between looks at the truth
const STILL = 20; // s
const STILL_WAY = 0.1; // m: less is no getting on
const FREE_AHEAD = 1; // m
const NEAR_MOVER = 1.5; // m
const NO_RETURN = 0.6; // m

/** Drives the simulated rover through the real link, senses, messages and client, on a clock of its own. */
export async function driveNursery(options: DriveOptions): Promise<{ report: DriveReport; details: DriveDetails }> {
  const { seed, minutes, world = 'nursery' } = options;
  const config = loadConfig(undefined, [
    'clearance.no_return=clear',
    `clearance.no_return_m=${NO_RETURN}`,
    `simulator.seed=${seed}`,
    `simulator.world=${world}`,
    ...(options.sets ?? []),
  ]);
  const clock = fakeClock();
  const layout = findLayout(config.sensor.layout);
  const simulated = simulatedRover(config, layout, clock);
  const link = openLink(simulated.port, layout, config.sensor, clock);
  const log = { info: () => {}, warn: () => {} };
  const settings = { clearance: clearanceSetting(config), perception: perceptionSetting(config) };
  const parts = { link, ...settings, hello: helloFacts(config, 'drive'), clock, log };
  const daemon = startDaemon({ ...parts, drive: (speed, turn) => simulated.port.drive(speed, turn) }, (error) => {
    throw error;
  });
  const rover = connect('ws://127.0.0.1/', { WebSocket: socketTo(daemon.feeds, clock), now: clock.now });
  try {
    return await new Drive(options, { clock, daemon, rover, simulated }, config.rover.speedMax).run(minutes * 60);
  } finally {
    rover.close();
    const stopped = daemon.stop();
    for (let i = 0; i < 100; i++) await pass(clock, PERIOD);
    await stopped;
  }
}

interface Rig {
  readonly clock: FakeClock;
  readonly daemon: Daemon;
  readonly rover: Rover;
  readonly simulated: SimulatedRover;
}

class Drive {
  readonly #options: DriveOptions;
  readonly #rig: Rig;
  readonly #limit: number;
  readonly #random: Random;
  readonly #details = {
    standstills: [] as { at: number; x: number; y: number }[],
    faults: [] as FaultSeen[],
    lies: new Map<string, { looks: number; gap: number }>(),
    looks: 0,
    longestStill: 0,
  };
  #free = { count: 0, share: 0 };
  #still = { since: 0, x: NaN, y: NaN };
  #anyStill = { since: 0, x: NaN, y: NaN };
  #faultUntil = 0;
  #nextFault: number;
  #fault: { seen: FaultSeen; from: number; until: number } | undefined;

  constructor(options: DriveOptions, rig: Rig, limit: number) {
    this.#options = options;
    this.#rig = rig;
    this.#limit = limit;
    this.#random = new Random(options.seed + 77);
    this.#nextFault = options.faults ? 15 + 30 * this.#random.uniform() : Infinity;
  }

  async run(seconds: number): Promise<{ report: DriveReport; details: DriveDetails }> {
    const { rover, simulated, clock } = this.#rig;
    const { seed, minutes, driver = new AisleDriver(), onLook } = this.#options;
    for (let i = 0; i * PERIOD < seconds; i++) {
      await pass(clock, PERIOD);
      const command = driver.next(rover);
      rover.send({ drive: { vxMps: command.speed, turnRadps: command.turn } });
      if (i * PERIOD > 5 && !simulated.simulation.isDriven) throw new Error('the client never drove');
      this.#watchStop();
      if (i % LOOKS !== 0) continue;
      this.#look();
      onLook?.({ rover, simulated, time: simulated.simulation.time, command });
    }
    const { contacts, distance } = simulated.simulation;
    const round = (value: number, digits: number): number => Number(value.toFixed(digits));
    return {
      report: {
        seed,
        minutes,
        contacts: contacts.length,
        standstills_over_20s: this.#details.standstills.length,
        mean_speed_share: round(this.#free.share / Math.max(1, this.#free.count), 3),
        distance_m: round(distance, 1),
      },
      details: { ...this.#details, contacts, freeShare: this.#free.count / Math.max(1, this.#details.looks) },
    };
  }

  #look(): void {
    const { simulation } = this.#rig.simulated;
    const { time } = simulation;
    const { x, y, speed } = simulation.rover;
    this.#details.looks++;
    const movers = Math.min(...simulation.movers.map((mover) => simulation.gapTo(mover.x, mover.y)));
    const isFaulty = time < this.#faultUntil;
    if (!isFaulty && time > 3 && movers > NEAR_MOVER && simulation.nearest({ ahead: FREE_AHEAD }).gap > 0) {
      this.#free.count++;
      this.#free.share += Math.abs(speed) / this.#limit;
    }
    const moved = Math.hypot(x - this.#still.x, y - this.#still.y);
    const isCaused = isFaulty || movers < NEAR_MOVER || time < 3;
    if (isCaused || !(moved < STILL_WAY)) this.#still = { since: time, x, y };
    else if (time - this.#still.since > STILL) {
      this.#details.standstills.push({ at: time, x, y });
      this.#still = { since: time, x, y };
    }
    if (Math.hypot(x - this.#anyStill.x, y - this.#anyStill.y) < STILL_WAY)
      this.#details.longestStill = Math.max(this.#details.longestStill, time - this.#anyStill.since);
    else this.#anyStill = { since: time, x, y };
    this.#seekLies();
    this.#fail(time);
  }

  /** Lets the sensor fail at random moments, in each of its ways in turn. */
  #fail(time: number): void {
    if (time < this.#nextFault) return;
    const kind = SENSOR_FAULTS[this.#details.faults.length % SENSOR_FAULTS.length];
    const { simulation, port } = this.#rig.simulated;
    const lasts = 1.5 + 3 * this.#random.uniform();
    const seen = { kind, at: time, speed: Math.abs(simulation.rover.speed), stopped: NaN, gone: 0 };
    this.#details.faults.push(seen);
    this.#fault = { seen, from: simulation.distance, until: time + lasts };
    port.fail(kind, lasts);
    this.#faultUntil = time + lasts + 5; // it has to start again and run up
    this.#nextFault = this.#faultUntil + 5 + 30 * this.#random.uniform();
  }

  /** How far the rover goes after the onset of a fault. */
  #watchStop(): void {
    if (this.#fault === undefined) return;
    const { seen, from, until } = this.#fault;
    const { time, distance, rover } = this.#rig.simulated.simulation;
    seen.gone = distance - from;
    const isStanding = time - seen.at > 0.1 && Math.abs(rover.speed) < 0.005;
    if (Number.isNaN(seen.stopped) && isStanding) seen.stopped = seen.gone;
    if (time > until) this.#fault = undefined;
  }

  /** Which panes stand in a sector that is called clear, nearer than what `no_return: clear` vouches for. */
  #seekLies(): void {
    const { rover, simulated } = this.#rig;
    const { clearance } = rover;
    if (clearance === undefined) return;
    const { scene } = simulated.simulation;
    const { x, y, heading } = simulated.simulation.rover;
    const hit = { range: 0, thing: 0 };
    const seen = new Map<string, number>();
    for (const [k, state] of clearance.state.entries()) {
      if (state !== 'clear') continue;
      const bearing = heading + clearance.firstBearingRad + ((k + 0.5) * 2 * Math.PI) / clearance.state.length;
      const range = castRay(scene, x, y, 0.15, bearing, 0, hit);
      if (range >= NO_RETURN || hit.thing < 0 || scene.surface[hit.thing] !== GLASS) continue;
      const gap = simulated.simulation.gapTo(x + range * Math.cos(bearing), y + range * Math.sin(bearing));
      const name = scene.names[hit.thing];
      seen.set(name, Math.min(seen.get(name) ?? Infinity, gap));
    }
    for (const [name, gap] of seen) {
      const lie = this.#details.lies.get(name) ?? { looks: 0, gap: Infinity };
      this.#details.lies.set(name, { looks: lie.looks + 1, gap: Math.min(lie.gap, gap) });
    }
  }
}

/** Lets simulated time pass, then what waits for promises. */
async function pass(clock: FakeClock, seconds: number): Promise<void> {
  clock.advance(seconds);
  await new Promise((resolve) => setImmediate(resolve));
}
