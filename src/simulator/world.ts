/** World axes, m: x and y along the floor, z up from it. */
export type Place = readonly [x: number, y: number];

/** What a beam finds when it meets a thing. */
export const SURFACES = ['wall', 'wood', 'cloth', 'leaf', 'foil', 'strip', 'glass', 'curtain'] as const;
export type SurfaceName = (typeof SURFACES)[number];

/** m above the floor: from the lowest to the highest point. */
export type Band = readonly [low: number, high: number];

/** A row of straight upright faces. */
export interface WallData {
  readonly name: string;
  readonly points: readonly Place[];
  readonly surface: SurfaceName;
  readonly height: Band;
}

/** An upright round thing: a post, a pot, the leg of a bench. */
export interface PostData {
  readonly name: string;
  readonly at: Place;
  readonly radius: number;
  readonly surface: SurfaceName;
  readonly height: Band;
}

/** A table top on thin legs at its corners and at least every `legsApart` along its sides. */
export interface BenchData {
  readonly name: string;
  readonly from: Place;
  readonly to: Place;
  readonly legRadius: number;
  readonly legsApart: number;
  /** m, where the top begins. */
  readonly top: number;
}

/** A thing that lies on the floor, lower than the rover's belly: it costs grip, and no level beam meets it. */
export interface HoseData {
  readonly points: readonly Place[];
  readonly thickness: number;
}

/** A leaf on a hinge that opens and closes again and again. */
export interface DoorData {
  readonly name: string;
  readonly hinge: Place;
  /** Its free end while it is shut. */
  readonly shut: Place;
  readonly surface: SurfaceName;
  /** rad, how far it opens, counter-clockwise. */
  readonly opens: number;
  /** s, of one round; it is open for the second half of it. */
  readonly period: number;
}

/** Who walks or is pushed back and forth along a way. */
export interface MoverData {
  readonly name: string;
  readonly kind: 'person' | 'cart';
  readonly way: readonly Place[];
  /** m/s */
  readonly speed: number;
  /** s, longest rest at the ends of the way. */
  readonly rest: number;
  /** Share of the samples that meet its own range finder's light, where that one looks at ours; 0: it carries none. */
  readonly laser: number;
}

/** A low sun that shines into the receiver: samples towards it lose their echo. */
export interface SunData {
  /** rad, world axes, where it stands. */
  readonly bearing: number;
  /** rad, standard deviation of its glare. */
  readonly width: number;
  /** Share of the samples lost right towards it; 0: no sun. */
  readonly dropped: number;
}

/** A place for a rover, as data: what stands, what moves, where the rover begins and which way it goes by itself. SI. */
export interface World {
  readonly name: string;
  readonly start: { readonly x: number; readonly y: number; readonly heading: number };
  /** The rover's round when nobody drives it; fewer than two places: it stands. */
  readonly route: readonly Place[];
  readonly walls: readonly WallData[];
  readonly posts: readonly PostData[];
  readonly benches: readonly BenchData[];
  readonly hoses: readonly HoseData[];
  readonly doors: readonly DoorData[];
  readonly movers: readonly MoverData[];
  readonly sun: SunData;
}
