import { describe, expect, test } from 'vitest';
import { loadWorld } from '../../../src/cli/simulation.js';
import { Simulation } from '../../../src/simulator/simulation.js';
import type { Place, World } from '../../../src/simulator/world.js';
import { ROVER, roomWith } from '../../support/simulatedLine.js';

const hall = (changes: Partial<World> = {}): World =>
  roomWith({ walls: [], start: { x: 0, y: 0, heading: 0 }, ...changes });
const box = (name: string, x: number, height: readonly [number, number] = [0, 2]) => ({
  name,
  points: [
    [x, -1],
    [x, 1],
  ] as Place[],
  surface: 'wall' as const,
  height,
});
/** Drives for `seconds`, with a command 20 times a second from `from` on. */
function drive(simulation: Simulation, from: number, seconds: number, speed: number, turn: number): void {
  for (let t = from; t < from + seconds - 1e-9; t += 0.05) simulation.command(t, speed, turn);
  simulation.advanceTo(from + seconds);
}

describe('the rover', () => {
  // Slip takes up to some per cent of the way and never adds to it; the rest are closed forms of even acceleration.
  test('comes up to its speed as motors do, and not beyond its limit', () => {
    const simulation = new Simulation(hall(), ROVER, 1);
    drive(simulation, 0, 0.5, 9, 0);
    expect(simulation.rover.speed).toBeGreaterThan(0.3 * 0.93); // 0.6 m/s² for 0.5 s
    expect(simulation.rover.speed).toBeLessThanOrEqual(0.3);
    drive(simulation, 0.5, 2, 9, 0);
    expect(simulation.rover.speed).toBeGreaterThan(0.5 * 0.93);
    expect(simulation.rover.speed).toBeLessThanOrEqual(0.5);
  });
  test('brakes within v²/2a, by itself 0.3 s after the last command', () => {
    const simulation = new Simulation(hall(), ROVER, 1);
    drive(simulation, 0, 3, 0.5, 0);
    const { distance } = simulation;
    simulation.advanceTo(5);
    expect(simulation.rover.speed).toBeCloseTo(0, 9);
    const way = simulation.distance - distance;
    expect(way).toBeLessThan(0.3 * 0.5 + 0.5 ** 2 / 2 + 0.005); // and a tick of 5 ms
    expect(way).toBeGreaterThan((0.25 * 0.5 + 0.5 ** 2 / 2) * 0.93);
  });
  test('goes in a circle of v / turn, counter-clockwise for a positive turn', () => {
    const simulation = new Simulation(hall(), ROVER, 1);
    drive(simulation, 0, 20, 0.4, 0.8);
    let most = 0;
    let least = Infinity;
    for (let i = 0; i < 200; i++) {
      drive(simulation, 20 + i * 0.05, 0.05, 0.4, 0.8);
      most = Math.max(most, simulation.rover.y);
      least = Math.min(least, simulation.rover.y);
    }
    expect((most - least) / 2).toBeGreaterThan(0.45); // 0.5 m, and what slip makes of it
    expect((most - least) / 2).toBeLessThan(0.55);
    expect(simulation.rover.turn).toBeGreaterThan(0.7);
  });
  test('counts with its wheels what they roll: more than it goes, most of all over a hose', () => {
    const slipOn = (hoses: World['hoses']): number => {
      const simulation = new Simulation(hall({ hoses }), ROVER, 1);
      drive(simulation, 0, 10, 0.5, 0);
      return simulation.rover.wheels.x / simulation.distance - 1;
    };
    const dry = slipOn([]);
    expect(dry).toBeGreaterThan(0.001);
    expect(dry).toBeLessThan(0.03);
    expect(
      slipOn([
        {
          points: [
            [-1, 0],
            [9, 0],
          ],
          thickness: 0.02,
        },
      ]),
    ).toBeGreaterThan(dry + 0.05);
  });
  test('stands for a command that is no number', () => {
    const simulation = new Simulation(hall(), ROVER, 1);
    drive(simulation, 0, 1, NaN, NaN);
    expect(simulation.distance).toBe(0);
  });
});

describe('contact', () => {
  test.each([
    { name: 'a wall', world: { walls: [box('it', 2)] }, touched: 'it' },
    { name: 'a pane', world: { walls: [{ ...box('it', 2), surface: 'glass' as const }] }, touched: 'it' },
    {
      name: 'a thin leg',
      world: {
        posts: [
          { name: 'it', at: [2, 0.1] as const, radius: 0.015, surface: 'wood' as const, height: [0, 1] as const },
        ],
      },
      touched: 'it',
    },
    { name: 'a bench top above it', world: { walls: [box('it', 2, [0.7, 0.8])] }, touched: '' },
    {
      name: 'a hose',
      world: {
        hoses: [
          {
            points: [
              [2, -1],
              [2, 1],
            ] as Place[],
            thickness: 0.02,
          },
        ],
      },
      touched: '',
    },
  ])('with $name', ({ world, touched }) => {
    const simulation = new Simulation(hall(world), ROVER, 1);
    drive(simulation, 0, 8, 0.5, 0);
    expect(simulation.contacts.map(({ thing }) => thing)).toEqual(
      touched === '' ? [] : expect.arrayContaining([touched]),
    );
    if (touched === '') expect(simulation.rover.x).toBeGreaterThan(3);
    else expect(simulation.rover.x).toBeLessThan(1.81); // its front is 0.2 m ahead of its middle
  });
});

describe('movers', () => {
  const walker = {
    name: 'walker',
    kind: 'person' as const,
    way: [
      [-4, 0],
      [4, 0],
    ] as Place[],
    speed: 1,
    rest: 2,
    laser: 0,
  };
  test('walk on their way at a pace of people, rest and turn', () => {
    const simulation = new Simulation(hall({ start: { x: 0, y: 5, heading: 0 }, movers: [walker] }), ROVER, 3);
    const speeds = new Set<number>();
    let before = simulation.movers[0].x;
    let least = 0;
    let most = 0;
    for (let t = 0.1; t < 120; t += 0.1) {
      simulation.advanceTo(t);
      const [{ x, y, speed }] = simulation.movers;
      expect(Math.abs(y)).toBeLessThan(1e-9);
      expect(Math.abs(x - before)).toBeLessThan(1.15 * 0.1 + 0.01);
      before = x;
      least = Math.min(least, x);
      most = Math.max(most, x);
      speeds.add(speed);
    }
    expect(least).toBeGreaterThan(-4.001);
    expect(most).toBeLessThan(4.001);
    expect(most - least).toBeGreaterThan(4);
    expect(speeds.size).toBe(2); // walking and resting
  });
  test('stop before a rover that stands in their way, and turn back', () => {
    for (const kind of ['person', 'cart'] as const) {
      const simulation = new Simulation(hall({ movers: [{ ...walker, kind }] }), ROVER, 3);
      simulation.advanceTo(60);
      expect(simulation.contacts).toEqual([]);
      expect(simulation.movers[0].x).not.toBe(0);
    }
  });
  test('do not save a rover that drives into them', () => {
    const simulation = new Simulation(
      hall({
        movers: [
          {
            ...walker,
            way: [
              [2, 0],
              [2.001, 0],
            ],
          },
        ],
      }),
      ROVER,
      3,
    );
    drive(simulation, 0, 8, 0.5, 0);
    expect(simulation.contacts[0]?.thing).toBe('walker');
  });
  test('have legs or a body, wheels or a deck, by height', () => {
    const { scene } = new Simulation(hall({ movers: [walker, { ...walker, name: 'cart', kind: 'cart' }] }), ROVER, 3);
    const at = (name: string, z: number): number =>
      scene.names.filter((other, k) => other === name && scene.low[k] <= z && z <= scene.high[k]).length;
    expect(at('walker', 0.15)).toBe(2);
    expect(at('walker', 1.2)).toBe(1);
    expect(at('cart', 0.15)).toBe(4); // wheels
    expect(at('cart', 0.5)).toBe(4); // faces
  });
});

test('a door is shut for the first half of its round, open in the second, and does not swing onto the rover', () => {
  const door = {
    name: 'door',
    hinge: [2, 0] as const,
    shut: [3, 0] as const,
    surface: 'wood' as const,
    opens: Math.PI / 2,
    period: 20,
  };
  const ends = (start: World['start']): number[] => {
    const simulation = new Simulation(hall({ start, doors: [door] }), ROVER, 1);
    return [5, 15, 25].flatMap((t) => {
      simulation.advanceTo(t);
      return Array.from(simulation.scene.faces.slice(2, 4), (value) => Number(value.toFixed(6)));
    });
  };
  expect(ends({ x: 0, y: 0, heading: 0 })).toEqual([3, 0, 2, 1, 3, 0]);
  const [, , x, y] = ends({ x: 2.6, y: 0.7, heading: 0 });
  expect(Math.atan2(y, x - 2)).toBeLessThan(0.8);
});

describe('the worlds', () => {
  test.each(['nursery', 'hall', 'shed'])(
    '%s: the rover goes its round without touching anything, the same for the same seed',
    (name) => {
      const run = (seed: number): Simulation => {
        const simulation = new Simulation(loadWorld(name), ROVER, seed);
        simulation.advanceTo(180);
        return simulation;
      };
      const first = run(1);
      expect(first.contacts).toEqual([]);
      expect(first.distance).toBeGreaterThan(15);
      const again = run(1);
      const other = run(2);
      expect([again.rover.x, again.rover.y, ...again.scene.rounds]).toEqual([
        first.rover.x,
        first.rover.y,
        ...first.scene.rounds,
      ]);
      expect(Array.from(other.scene.rounds)).not.toEqual(Array.from(first.scene.rounds));
    },
  );
  test('the steps in which time passes change nothing', () => {
    const whole = new Simulation(loadWorld('nursery'), ROVER, 5);
    whole.advanceTo(20);
    const parts = new Simulation(loadWorld('nursery'), ROVER, 5);
    for (let t = 0; t <= 20; t += 0.0037) parts.advanceTo(t);
    parts.advanceTo(20);
    expect(parts.rover.x).toBe(whole.rover.x);
    expect(Array.from(parts.scene.rounds)).toEqual(Array.from(whole.scene.rounds));
  });
});
