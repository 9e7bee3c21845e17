import { DEFAULT_NOISE, type NoiseModel } from '../../estimate/noise.js';
import { ArcFinder } from './arcs.js';
import { CornerFinder, type CornerShape } from './corners.js';
import { EchoOrder } from './echoOrder.js';
import { checkFrame, type ShapeFrame } from './frame.js';
import { LineRows } from './lineRows.js';
import { OpeningFinder, type OpeningShape } from './openings.js';
import { PieceSplitter } from './pieceSplitter.js';
import { PostFinder, type PostShape } from './posts.js';
import { SegmentFinder, type SegmentShape } from './segments.js';
import { WallFinder, type WallShape } from './walls.js';

/** What the finder of shapes must know; SI. */
export interface ShapeSetting {
  readonly noise: NoiseModel;
  /** m, place of the sensor from the rover's origin, rover axes: shapes are told about the rover's origin. */
  readonly sensor: readonly [number, number];
  /** m, width of the openings worth telling: what the rover needs to pass, and what is no longer a gap. */
  readonly opening: readonly [number, number];
}

export const DEFAULT_SHAPE_SETTING: ShapeSetting = { noise: DEFAULT_NOISE, sensor: [0, 0], opening: [0.4, 2.5] };

/** The shapes of one sweep, m and rad, rover axes about the rover's origin at the frame's reference moment. Fresh: the reader may keep it. */
export interface Shapes {
  /** [samples], index of the sample's segment; -1 without echo. */
  readonly segmentOf: Readonly<Int32Array>;
  readonly segments: readonly SegmentShape[];
  readonly walls: readonly WallShape[];
  readonly corners: readonly CornerShape[];
  readonly openings: readonly OpeningShape[];
  readonly posts: readonly PostShape[];
}

/**
 * Segments, walls, corners, openings and posts of one sweep at a time; nothing is carried from sweep to sweep.
 * Steps: echoes in order and cut at sight (EchoOrder), straight pieces by likelihood (PieceSplitter), connected surfaces
 * (SegmentFinder), curves (ArcFinder), walls (WallFinder), corners, posts, openings.
 */
export class ShapeFinder {
  readonly #setting: ShapeSetting;
  readonly #order = new EchoOrder();
  readonly #pieces = new PieceSplitter();
  readonly #lines = new LineRows();
  readonly #segments = new SegmentFinder();
  readonly #arcs = new ArcFinder();
  readonly #walls = new WallFinder();
  readonly #corners = new CornerFinder();
  readonly #posts = new PostFinder();
  readonly #openings: OpeningFinder;

  constructor(setting: ShapeSetting = DEFAULT_SHAPE_SETTING) {
    const { noise, opening } = setting;
    if (!(noise.constant > 0 && noise.growth >= 0)) throw new RangeError(`noise ${noise.constant}, ${noise.growth}`);
    if (!(opening[0] > 0 && opening[1] > opening[0])) throw new RangeError(`opening ${opening[0]}, ${opening[1]}`);
    this.#setting = setting;
    this.#openings = new OpeningFinder(opening[0], opening[1]);
  }

  /**
   * @param frame one sweep freed of motion, see FrameMaker.
   * @throws {TypeError | RangeError} a frame that breaks its promises, see checkFrame.
   * @cost about 100 ns an echo here; scratch grows to the longest sweep and stays.
   */
  find(frame: ShapeFrame): Shapes {
    this.segment(frame);
    this.straighten();
    return this.describe();
  }

  /** First part of `find`: the check, the order, the pieces and their segments. */
  segment(frame: ShapeFrame): void {
    checkFrame(frame);
    const pieces = this.#pieces;
    this.#order.set(frame, this.#setting.noise);
    pieces.split(this.#order);
    this.#lines.reserve(pieces.count);
    for (let p = 0; p < pieces.count; p++) this.#lines.setSpan(p, this.#order.sums, pieces.first[p], pieces.last[p]);
    this.#segments.find(this.#order, pieces, this.#lines);
  }

  /** Second part of `find`: curves, walls and corners of the pieces of the last `segment`. */
  straighten(): void {
    this.#arcs.find(this.#order, this.#pieces, this.#lines, this.#segments);
    this.#walls.find(this.#order, this.#pieces, this.#lines, this.#arcs);
    this.#corners.find(this.#order, this.#pieces, this.#walls, this.#segments);
  }

  /** Third part of `find`: posts, openings, and what crosses the folder. */
  describe(): Shapes {
    const order = this.#order;
    const pieces = this.#pieces;
    const segments = this.#segments;
    const { sensor } = this.#setting;
    const posts = this.#posts.find(order, pieces, segments, sensor);
    const parts = { order, pieces, lines: this.#lines, segments, walls: this.#walls, posts: this.#posts };
    return {
      segmentOf: segments.labels(order, pieces),
      segments: segments.shapes(order, pieces, sensor),
      walls: this.#walls.shapes(order, pieces, sensor),
      corners: this.#corners.shapes(this.#walls, sensor),
      openings: this.#openings.find(parts, sensor),
      posts,
    };
  }
}
