import type { Clock } from '../../src/core/clock.js';
import { findLayout } from '../../src/device/layouts/builtIn.js';
import type { Layout } from '../../src/device/layouts/layout.js';
import type { SensorSetting } from '../../src/device/setting.js';
import { type SimulatedLine, SimulatedPort } from '../../src/simulator/simulatedPort.js';
import { type SensorModel, SimulatedSensor, USUAL_SENSOR } from '../../src/simulator/simulatedSensor.js';
import { Simulation } from '../../src/simulator/simulation.js';
import type { Place, World } from '../../src/simulator/world.js';

export const LEVEL = { x: 0, y: 0, z: 0.15, yaw: 0, pitch: 0, roll: 0, upsideDown: false };
export const SENSOR: SensorSetting = { mount: LEVEL, reach: [0.15, 12], range: { offset: 0, scale: 1 }, masks: [] };
const OUTLINE: Place[] = [
  [0.2, 0.16],
  [-0.2, 0.16],
  [-0.2, -0.16],
  [0.2, -0.16],
];
export const ROVER = { outline: OUTLINE, speedMax: 0.5, turnMax: 1, brake: 1 };

/** A room of 6 x 4.5 m with the rover at (2.2, 2) looking along x: 3.8 m ahead, 2.5 m to the left, 2.2 m behind, 2 m to the right. */
export function roomWith(changes: Partial<World> = {}): World {
  const walls = [
    {
      name: 'wall',
      points: [
        [0, 0],
        [6, 0],
        [6, 4.5],
        [0, 4.5],
        [0, 0],
      ] as Place[],
      surface: 'wall' as const,
      height: [0, 2.5] as const,
    },
  ];
  return {
    name: 'room',
    start: { x: 2.2, y: 2, heading: 0 },
    route: [],
    walls,
    posts: [],
    benches: [],
    hoses: [],
    doors: [],
    movers: [],
    sun: { bearing: 0, width: 0.3, dropped: 0 },
    ...changes,
  };
}

interface Choice {
  readonly layout?: Layout;
  readonly sensor?: SensorSetting;
  readonly model?: Partial<SensorModel>;
  readonly world?: World;
  readonly seed?: number;
  readonly baud?: number;
  readonly onMeasured?: SimulatedLine['onMeasured'];
}

/** @returns a simulated sensor's line in the room above, sample5 by default. */
export function simulatedLine(choice: Choice, clock: Clock): { port: SimulatedPort; simulation: Simulation } {
  const {
    layout = findLayout('sample5'),
    sensor = SENSOR,
    model,
    world = roomWith(),
    seed = 1,
    baud,
    onMeasured,
  } = choice;
  const simulation = new Simulation(world, ROVER, seed);
  const line = { layout, baud: baud ?? layout.baud, sensor, model: { ...USUAL_SENSOR, ...model }, simulation, seed };
  return { simulation, port: new SimulatedPort(onMeasured ? { ...line, onMeasured } : line, clock) };
}

/** @returns the sensor alone, asked for samples directly; 2000 a second, clockwise. */
export function simulatedSensor(choice: Choice & { sense?: Layout['sense']; rate?: number } = {}): {
  sensor: SimulatedSensor;
  simulation: Simulation;
} {
  const { sensor = SENSOR, model, world = roomWith(), seed = 1, sense = 'clockwise', rate = 2000 } = choice;
  const simulation = new Simulation(world, ROVER, seed);
  const parts = {
    layout: { sense },
    setting: sensor,
    model: { ...USUAL_SENSOR, ...model },
    simulation,
    rate,
    began: 0,
    seed,
  };
  return { simulation, sensor: new SimulatedSensor(parts) };
}
