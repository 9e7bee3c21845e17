/** One value: what it is without anybody saying so, its unit, its limits in words, why it is there, and the check of them. */
export interface Leaf<T> {
  readonly kind: 'leaf';
  /** The default; undefined where there is none. */
  readonly preset: T;
  /** Without it a list item is not complete. */
  readonly isNeeded: boolean;
  /** Empty where there is none. */
  readonly unit: string;
  readonly limits: string;
  readonly why: string;
  accepts(value: unknown): boolean;
}

export interface Group<Keys extends Readonly<Record<string, Node>>> {
  readonly kind: 'group';
  readonly keys: Keys;
}

export interface List<Item extends Node> {
  readonly kind: 'list';
  readonly of: Item;
  readonly preset: readonly Value<Item>[];
  readonly least: number;
  readonly most: number;
  readonly why: string;
  /** A list of one may be written as the item itself. */
  readonly isLoneAllowed?: boolean;
}

/** A group or list that need not be there. */
export interface Maybe<Item extends Several> {
  readonly kind: 'maybe';
  readonly of: Item;
}

/** Keys that the writer of the file chooses. */
export interface Table<Item extends Node> {
  readonly kind: 'table';
  readonly of: Item;
}

type Several = Group<Readonly<Record<string, Node>>> | List<Node>;
export type Node = Leaf<unknown> | Several | Maybe<Several> | Table<Node>;

/** The type of what a node of the schema reads. */
export type Value<N> =
  N extends Leaf<infer T>
    ? T
    : N extends { readonly kind: 'group'; readonly keys: infer Keys }
      ? { readonly [K in keyof Keys]: Value<Keys[K]> }
      : N extends { readonly kind: 'list'; readonly of: infer Item }
        ? readonly Value<Item>[]
        : N extends { readonly kind: 'maybe'; readonly of: infer Item }
          ? Value<Item> | undefined
          : N extends { readonly kind: 'table'; readonly of: infer Item }
            ? { readonly [name: string]: Value<Item> }
            : never;

type Pair = readonly [number, number];
type About<T> = Readonly<{ preset: T; why: string }>;

/** Builder of a value with a check of its own. */
export const leaf = <T>(
  about: About<T>,
  unit: string,
  limits: string,
  accepts: (value: unknown) => boolean,
  isNeeded = false,
): Leaf<T> => ({
  kind: 'leaf',
  ...about,
  isNeeded,
  unit,
  limits,
  accepts,
});
const isWithin = (value: unknown, least: number, most: number): value is number =>
  typeof value === 'number' && value >= least && value <= most;
const brief = (limit: number): number => Number(limit.toFixed(3));
const span = (least: number, most: number, unit: string): string =>
  `${brief(least)} to ${brief(most)}${unit && ` ${unit}`}`;

/** Builder of a node; limits in words come with it. */
export const number = (about: About<number>, unit: string, least: number, most: number): Leaf<number> =>
  leaf(about, unit, `a number, ${span(least, most, unit)}`, (value) => isWithin(value, least, most));
/** Builder of a node; limits in words come with it. */
export const neededNumber = (why: string, unit: string, least: number, most: number): Leaf<number> =>
  leaf(
    { preset: NaN, why },
    unit,
    `a number, ${span(least, most, unit)}`,
    (value) => isWithin(value, least, most),
    true,
  );
/** Builder of a node; limits in words come with it. */
export const whole = <T extends number | undefined>(
  about: About<T>,
  unit: string,
  least: number,
  most: number,
): Leaf<T> =>
  leaf(
    about,
    unit,
    `a whole number, ${span(least, most, unit)}`,
    (value) => Number.isInteger(value) && isWithin(value, least, most),
  );
/** Builder of a node; limits in words come with it. */
export const flag = (about: About<boolean>): Leaf<boolean> =>
  leaf(about, '', 'true or false', (value) => typeof value === 'boolean');
/** Builder of a node; limits in words come with it. */
export const choice = <const T extends string>(names: readonly T[], about: About<T>, isNeeded = false): Leaf<T> =>
  leaf(about, '', names.join(' | '), (value) => (names as readonly unknown[]).includes(value), isNeeded);
/** Builder of a node; limits in words come with it. */
export const text = <T extends string | undefined>(
  about: About<T>,
  limits: string,
  form: RegExp,
  isNeeded = false,
): Leaf<T> => leaf(about, '', `text: ${limits}`, (value) => typeof value === 'string' && form.test(value), isNeeded);
/** Builder of a node; limits in words come with it. */
export const pair = (about: About<Pair>, unit: string, least: number, most: number): Leaf<Pair> =>
  leaf(about, unit, `a pair [a, b], each ${span(least, most, unit)}`, (value) => {
    return Array.isArray(value) && value.length === 2 && value.every((part) => isWithin(part, least, most));
  });
/** Builder of a node; limits in words come with it. */
export const group = <Keys extends Readonly<Record<string, Node>>>(keys: Keys): Group<Keys> => ({
  kind: 'group',
  keys,
});
/** Builder of a node; limits in words come with it. */
export const list = <Item extends Node>(
  of: Item,
  about: About<readonly Value<Item>[]>,
  least: number,
  most: number,
): List<Item> => ({
  kind: 'list',
  of,
  ...about,
  least,
  most,
});

/** Builder of a group or list that need not be there. */
export const maybe = <Item extends Several>(of: Item): Maybe<Item> => ({ kind: 'maybe', of });
/** Builder of a group whose keys the writer chooses. */
export const table = <Item extends Node>(of: Item): Table<Item> => ({ kind: 'table', of });
