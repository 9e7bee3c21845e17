import { type Facts, Fault } from '../core/fault.js';
import { nearestKey } from './nearestKey.js';
import { type Group, type List, type Maybe, type Node, presetOf, type Table, type Value } from './schema.js';

export type Path = readonly (string | number)[];

/** One place that configures: the file, or one `--set`. */
export interface Layer {
  /** The table of keys that it is read by; absent: the configuration's. */
  readonly root?: Node;
  /** What it says, as plain data; undefined or null where nothing. */
  readonly raw: unknown;
  /** @returns whether it says anything about the key. */
  says(path: Path): boolean;
  /** @returns for people: file and line of the key, or the argument. */
  place(path: Path): Facts;
}

/** @returns the path as it is written in messages: dots between keys, items in brackets. */
function writePath(path: Path): string {
  return path.reduce<string>(
    (text, part) => (typeof part === 'number' ? `${text}[${part}]` : text === '' ? part : `${text}.${part}`),
    '',
  );
}

/** @returns the value for a message: JSON, cut at 60 characters. */
function writeValue(value: unknown): string {
  if (typeof value === 'number') return String(value);
  const written = value === undefined ? 'nothing' : (JSON.stringify(value) ?? String(value));
  return written.length > 60 ? `${written.slice(0, 57)}...` : written;
}

/**
 * Lays one layer over what is known so far. Lists are replaced whole; groups key by key.
 * @param below value of the node so far; undefined inside a list, where every needed key must be there.
 * @throws {Fault} CONFIG_KEY_UNKNOWN, CONFIG_VALUE_BAD.
 */
export function readOver<N extends Node>(
  node: N,
  raw: unknown,
  below: Value<N> | undefined,
  layer: Layer,
  path: Path = [],
): Value<N> {
  const value =
    node.kind === 'group'
      ? readGroup(node, raw, below as Record<string, unknown> | undefined, layer, path)
      : node.kind === 'list'
        ? readList(node, raw, layer, path)
        : node.kind === 'maybe'
          ? readMaybe(node, raw, layer, path)
          : node.kind === 'table'
            ? readTable(node, raw, layer, path)
            : raw;
  if (node.kind === 'leaf' && !node.accepts(raw)) throw valueBad(path, raw, node.limits, layer);
  return value as Value<N>; // checked against the table just above
}

/** @returns the Fault of a value out of its limits. */
export function valueBad(path: Path, value: unknown, limits: string, layer: Layer | undefined): Fault {
  return new Fault('CONFIG_VALUE_BAD', {
    key: writePath(path),
    value: writeValue(value),
    limits,
    ...layer?.place(path),
  });
}

function readGroup(
  node: Group<Readonly<Record<string, Node>>>,
  raw: unknown,
  below: Readonly<Record<string, unknown>> | undefined,
  layer: Layer,
  path: Path,
): Record<string, unknown> {
  const said = raw ?? {}; // a section whose lines are all commented out
  if (!isPlainObject(said)) throw valueBad(path, raw, `a map of ${Object.keys(node.keys).join(', ')}`, layer);
  for (const key of Object.keys(said)) {
    if (Object.hasOwn(node.keys, key)) continue;
    const at = [...path, key];
    throw new Fault('CONFIG_KEY_UNKNOWN', {
      key: writePath(at),
      nearest: nearestKey(at, layer.root),
      ...layer.place(at),
    });
  }
  const value: Record<string, unknown> = {};
  for (const [key, child] of Object.entries(node.keys)) {
    const at = [...path, key];
    if (Object.hasOwn(said, key)) value[key] = readOver(child, said[key], below?.[key], layer, at);
    else if (below) value[key] = below[key];
    else if (child.kind === 'leaf' && child.isNeeded) throw valueBad(at, undefined, child.limits, layer);
    else if (child.kind === 'group') value[key] = readOver(child, undefined, undefined, layer, at);
    else value[key] = presetOf(child);
  }
  return value;
}

function readList(node: List<Node>, raw: unknown, layer: Layer, path: Path): unknown[] {
  const limits = `a list of ${node.least} to ${node.most}`;
  if (node.isLoneAllowed === true && isPlainObject(raw)) return [readOver(node.of, raw, undefined, layer, path)];
  if (!Array.isArray(raw) || raw.length < node.least || raw.length > node.most)
    throw valueBad(path, raw, limits, layer);
  return raw.map((item, index) => readOver(node.of, item, undefined, layer, [...path, index]));
}

function readMaybe(
  node: Maybe<Extract<Node, { kind: 'group' | 'list' }>>,
  raw: unknown,
  layer: Layer,
  path: Path,
): unknown {
  return raw === undefined || raw === null ? undefined : readOver(node.of, raw, undefined, layer, path);
}

function readTable(node: Table<Node>, raw: unknown, layer: Layer, path: Path): Record<string, unknown> {
  const said = raw ?? {};
  if (!isPlainObject(said)) throw valueBad(path, raw, 'a map', layer);
  return Object.fromEntries(
    Object.entries(said).map(([key, item]) => [key, readOver(node.of, item, undefined, layer, [...path, key])]),
  );
}

function isPlainObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
