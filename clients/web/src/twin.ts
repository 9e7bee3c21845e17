import { list } from './dom.js';
import type { Marks } from './measure/marks.js';
import type { Model } from './model.js';
import { passage } from './sheet/standing.js';
import { cutLength, degrees, lengthUnit, roundLength } from './units.js';

const DIRECTIONS = ['ahead', 'ahead left', 'left', 'behind left', 'behind', 'behind right', 'right', 'ahead right'];
const MOST = 12; // things of a kind: a list read aloud must end

/** Tape and pins in words. */
export function writeMarks({ tape, plate, pins }: Marks): void {
  const told = pins.map(
    ({ number, lines, isSeen }) => `pin ${number}: ${lines.join(', ')}${isSeen ? '' : ', not seen now'}`,
  );
  if (tape?.b !== undefined) told.unshift(`tape ${plate}`);
  list('twin-marks', told.length > 0 ? told : ['none']);
}

/** The plan in words, for whoever does not see it. @param towards m, leeway in a direction, rad. */
export function writeTwin(model: Model, isPast: boolean, towards: (bearing: number) => number): void {
  const unit = lengthUnit();
  list(
    'twin-leeway',
    DIRECTIONS.map((name, i) => {
      const leeway = isPast ? 0 : i === 0 ? model.ahead : towards((i * Math.PI) / 4);
      return leeway > 0 ? `${name} ${cutLength(leeway)} ${unit}` : `${name}: not vouched for`;
    }),
  );
  const { walls = [], openings = [], posts = [], corners = [] } = model.shapes ?? {};
  const nearest = [...walls].sort((a, b) => a.distanceM - b.distanceM).slice(0, MOST);
  const things = nearest.map(
    (wall) =>
      `wall ${roundLength(Math.hypot(wall.x2M - wall.x1M, wall.y2M - wall.y1M))} ${unit} long, ${roundLength(wall.distanceM)} ${unit} away at ${side(wall.normalRad)}`,
  );
  for (const { x1M, y1M, x2M, y2M, widthM } of openings.slice(0, MOST))
    things.push(
      `opening ${roundLength(widthM)} ${unit} wide ${place((x1M + x2M) / 2, (y1M + y2M) / 2)}, ${passage(model, widthM)}`,
    );
  for (const mover of isPast ? [] : (model.movers?.movers ?? []).slice(0, MOST)) {
    const speed = roundLength(Math.hypot(mover.vxMps, mover.vyMps));
    things.push(`mover ${mover.id} ${place(mover.xM, mover.yM)}, ${speed} ${unit} a second`);
  }
  things.push(`${corners.length} corners and ${posts.length} posts`);
  list('twin-things', isPast ? [`Where things stood when last seen:`, ...things] : things);
}

function place(x: number, y: number): string {
  return `${roundLength(Math.hypot(x, y))} ${lengthUnit()} away at ${side(Math.atan2(y, x))}`;
}

function side(bearing: number): string {
  const turned = Math.atan2(Math.sin(bearing), Math.cos(bearing));
  const word = turned >= 0 ? 'left' : 'right';
  return `${degrees(Math.abs(turned))} ${word}`;
}
