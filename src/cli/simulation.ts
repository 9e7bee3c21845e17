import { readdirSync } from 'node:fs';
import { basename } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Config } from '../config/config.js';
import { readWorldFile } from '../config/worldFile.js';
import type { WorldFile } from '../config/worldSchema.js';
import type { Clock } from '../core/clock.js';
import { Fault } from '../core/fault.js';
import type { Layout } from '../device/layouts/layout.js';
import { type SimulatedLine, SimulatedPort } from '../simulator/simulatedPort.js';
import { Simulation } from '../simulator/simulation.js';
import type { World } from '../simulator/world.js';

const FOLDER = new URL('../simulator/worlds/', import.meta.url);

/** A simulated rover: the line to its sensor, and the world it drives in. */
export interface SimulatedRover {
  readonly port: SimulatedPort;
  readonly simulation: Simulation;
}

/** @throws {Fault} of the world file; WORLD_NOT_FOUND. */
export function simulatedRover(
  config: Config,
  layout: Layout,
  clock: Clock,
  onMeasured?: SimulatedLine['onMeasured'],
): SimulatedRover {
  const { sensor, rover, simulator } = config;
  const simulation = new Simulation(loadWorld(simulator.world), rover, simulator.seed);
  const baud = sensor.baud ?? layout.baud;
  const line = { layout, baud, sensor, model: simulator.sensor, simulation, seed: simulator.seed };
  return { port: new SimulatedPort(onMeasured ? { ...line, onMeasured } : line, clock), simulation };
}

/**
 * @param name of a built-in world, or the path of a world file (then it holds a slash).
 * @throws {Fault} WORLD_NOT_FOUND, with the known names; CONFIG_UNREADABLE and what else a file can lack.
 */
export function loadWorld(name: string): World {
  if (name.includes('/')) return toWorld(basename(name), readWorldFile(name));
  const known = readdirSync(FOLDER).map((file) => basename(file, '.yaml'));
  if (!known.includes(name)) throw new Fault('WORLD_NOT_FOUND', { world: name, known: known.sort().join(', ') });
  return toWorld(name, readWorldFile(fileURLToPath(new URL(`${name}.yaml`, FOLDER))));
}

/** From the names of the file, which carry units, to the SI names inside. */
function toWorld(name: string, file: WorldFile): World {
  return {
    name,
    start: { x: file.start.x_m, y: file.start.y_m, heading: file.start.heading_rad },
    route: file.route_m,
    walls: file.walls.map((wall) => ({ ...wall, points: wall.points_m, height: wall.height_m })),
    posts: file.posts.flatMap((post) => {
      return post.at_m.map((at) => ({ ...post, at, radius: post.radius_m, height: post.height_m }));
    }),
    benches: file.benches.map((bench) => ({
      name: bench.name,
      from: bench.from_m,
      to: bench.to_m,
      legRadius: bench.leg_m / 2,
      legsApart: bench.legs_apart_m,
      top: bench.top_m,
    })),
    hoses: file.hoses.map((hose) => ({ points: hose.points_m, thickness: hose.thickness_m })),
    doors: file.doors.map((door) => ({
      name: door.name,
      hinge: door.hinge_m,
      shut: door.shut_m,
      surface: door.surface,
      opens: door.opens_rad,
      period: door.period_s,
    })),
    movers: file.movers.map((mover) => ({
      name: mover.name,
      kind: mover.kind,
      way: mover.way_m,
      speed: mover.speed_mps,
      rest: mover.rest_s,
      laser: mover.laser,
    })),
    sun: { bearing: file.sun.bearing_rad, width: file.sun.width_rad, dropped: file.sun.dropped },
  };
}
