import { choice, group, leaf, list, neededNumber, number, text, type Value } from './schema.js';

const SURFACES = ['wall', 'wood', 'cloth', 'leaf', 'foil', 'strip', 'glass', 'curtain'] as const;
const NAME = /^[^\p{C}]{1,64}$/u;
const ROOM = 1000; // m: wide; it catches centimetres

type Place = readonly [number, number];
const isPlace = (value: unknown, least: number): value is Place =>
  Array.isArray(value) &&
  value.length === 2 &&
  value.every((part) => typeof part === 'number' && part >= least && part <= ROOM);
const place = (why: string) =>
  leaf<Place>(
    { preset: [NaN, NaN], why },
    'm',
    'a place [x, y], each -1000 to 1000 m',
    (value) => isPlace(value, -ROOM),
    true,
  );
const points = (why: string, least: number) => list(place('one place'), { preset: [], why }, least, 1000);
const band = (preset: Place, why: string) =>
  leaf<Place>(
    { preset, why },
    'm',
    'a pair [low, high], each 0 to 1000 m, low first',
    (value) => isPlace(value, 0) && value[0] <= value[1],
  );
const name = (why: string) => text({ preset: '', why }, '1 to 64 printable characters', NAME, true);
const surface = (preset: (typeof SURFACES)[number]) =>
  choice(SURFACES, { preset, why: 'what a beam finds: how much light comes back' });

/** Every key of a world file: default, unit, limits, why. World axes: x and y along the floor, z up. */
export const worldSchema = group({
  start: group({
    x_m: number({ preset: 0, why: 'where the rover begins' }, 'm', -ROOM, ROOM),
    y_m: number({ preset: 0, why: 'the same' }, 'm', -ROOM, ROOM),
    heading_rad: number({ preset: 0, why: 'where it looks, counter-clockwise from x' }, 'rad', -7, 7),
  }),
  route_m: points('places of its round when nobody drives it; without: it stands', 0),
  walls: list(
    group({
      name: name('shown in truth and reports'),
      points_m: points('corners of a row of straight faces', 2),
      surface: surface('wall'),
      height_m: band([0, 2.5], 'from where to where it reaches above the floor'),
    }),
    { preset: [], why: 'straight upright faces: walls, panes, strips' },
    0,
    1000,
  ),
  posts: list(
    group({
      name: name('shown in truth and reports'),
      at_m: points('where such things stand', 1),
      radius_m: neededNumber('of each', 'm', 0.001, 10),
      surface: surface('wood'),
      height_m: band([0, 2.5], 'from where to where it reaches above the floor'),
    }),
    { preset: [], why: 'round upright things: posts, pots, legs' },
    0,
    1000,
  ),
  benches: list(
    group({
      name: name('shown in truth and reports'),
      from_m: place('one corner'),
      to_m: place('the corner across'),
      leg_m: number({ preset: 0.03, why: 'across a leg' }, 'm', 0.001, 1),
      legs_apart_m: number({ preset: 2, why: 'along the sides, at most' }, 'm', 0.1, 100),
      top_m: number({ preset: 0.75, why: 'where the top begins' }, 'm', 0, 10),
    }),
    { preset: [], why: 'tops on thin legs' },
    0,
    1000,
  ),
  hoses: list(
    group({
      points_m: points('the way it lies', 2),
      thickness_m: number({ preset: 0.02, why: 'its height above the floor' }, 'm', 0.001, 0.04),
    }),
    { preset: [], why: 'hoses on the floor: they cost grip; only tilted beams meet them' },
    0,
    1000,
  ),
  doors: list(
    group({
      name: name('shown in truth and reports'),
      hinge_m: place('where it turns'),
      shut_m: place('its free end while it is shut'),
      surface: surface('wood'),
      opens_rad: neededNumber('how far it opens, counter-clockwise', 'rad', -3.2, 3.2),
      period_s: number(
        { preset: 60, why: 'of one round: shut for the first half, open for the second' },
        's',
        4,
        86_400,
      ),
    }),
    { preset: [], why: 'doors that open and shut by themselves' },
    0,
    100,
  ),
  movers: list(
    group({
      name: name('shown in truth and reports'),
      kind: choice(['person', 'cart'], { preset: 'person', why: 'legs and a body, or a deck on wheels' }, true),
      way_m: points('walked back and forth', 2),
      speed_mps: number({ preset: 0.9, why: 'usual pace; it differs by seed' }, 'm/s', 0.01, 5),
      rest_s: number({ preset: 6, why: 'longest rest at the ends' }, 's', 0, 3600),
      laser: number(
        { preset: 0, why: 'share of our samples that meet its own range finder, where that one looks at ours' },
        '',
        0,
        1,
      ),
    }),
    { preset: [], why: 'people and carts' },
    0,
    100,
  ),
  sun: group({
    bearing_rad: number({ preset: 0, why: 'where a low sun stands' }, 'rad', -7, 7),
    width_rad: number({ preset: 0.3, why: 'standard deviation of its glare' }, 'rad', 0.01, 3.2),
    dropped: number({ preset: 0, why: 'share of the samples lost right towards it; 0: no sun' }, '', 0, 1),
  }),
});

/** A world file as it is read, names with units. */
export type WorldFile = Value<typeof worldSchema>;
