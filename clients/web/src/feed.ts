import type { Rover, Stamps } from '../../typescript/src/client.js';
import type { Model } from './model.js';

/** Leads what a connection tells into a model. @param onNews something came that the plan shows. @param onShapes a sweep is complete. */
export function feed(rover: Rover, model: Model, onNews: () => void, onShapes: (stamps: Stamps) => void): void {
  rover.on('hello', (hello) => {
    model.takeHello(hello);
    onNews();
  });
  rover.on('clearance', (clearance, stamps) => {
    model.takeClearance(clearance, stamps);
    onNews();
  });
  rover.on('health', (health) => {
    model.health = health;
    onNews();
  });
  rover.on('motion', (motion) => model.takeMotion(motion));
  rover.on('movers', (movers, stamps) => model.takeMovers(movers, stamps));
  rover.on('sweep', (sweep, stamps) => model.takeSweep(sweep, stamps));
  rover.on('shapes', (shapes, stamps) => {
    model.shapes = shapes;
    onShapes(stamps);
    onNews();
  });
}
