import { Fault } from '../../core/fault.js';
import type { Layout, LayoutOption } from './layout.js';

/** Values for some of a layout's options. */
export type OptionValues = Readonly<Record<string, boolean | string | number>>;

/**
 * The layout as its options have it.
 * @throws {Fault} LAYOUT_OPTION_BAD: an option that it has not, or a value that is not one of its choices.
 */
export function withOptions(layout: Layout, values: OptionValues): Layout {
  const options = layout.options ?? {};
  let result = layout;
  for (const [name, value] of Object.entries(values)) {
    const option = Object.hasOwn(options, name) ? options[name] : undefined;
    const key = `sensor.layout_options.${name}`;
    if (!option) {
      const limits = Object.keys(options).join(', ') || 'none';
      throw new Fault('LAYOUT_OPTION_BAD', { key, layout: layout.name, limits: `options of this layout: ${limits}` });
    }
    if (!isAllowed(option, value)) {
      throw new Fault('LAYOUT_OPTION_BAD', { key, value, layout: layout.name, limits: limitsOf(option) });
    }
    for (const path of option.sets) result = replaced(result, path.split('.'), value) as Layout;
  }
  return result;
}

/** @returns every combination of the options that a near straight wall settles; one empty one where there are none. */
export function wallTrials(layout: Layout): readonly OptionValues[] {
  let trials: OptionValues[] = [{}];
  for (const [name, { values, isSeenOnWall }] of Object.entries(layout.options ?? {})) {
    if (isSeenOnWall === true && values)
      trials = trials.flatMap((trial) => values.map((value) => ({ ...trial, [name]: value })));
  }
  return trials;
}

/** @returns whether the path leads to a place in the layout that has a value. */
export function leadsSomewhere(layout: Layout, path: string): boolean {
  let at: unknown = layout;
  for (const key of path.split('.')) {
    if (typeof at !== 'object' || at === null || !Object.hasOwn(at, key)) return false;
    at = (at as Readonly<Record<string, unknown>>)[key];
  }
  return typeof at !== 'object';
}

function isAllowed({ values, least, most }: LayoutOption, value: unknown): boolean {
  if (values) return (values as readonly unknown[]).includes(value);
  return typeof value === 'number' && value >= (least ?? -Infinity) && value <= (most ?? Infinity);
}

function limitsOf({ values, least, most }: LayoutOption): string {
  return values ? values.join(' | ') : `a number, ${least ?? 'any'} to ${most ?? 'any'}`;
}

/** @returns a copy of `node` with `value` at `path`; the rest is shared. */
function replaced(node: unknown, path: readonly string[], value: unknown): unknown {
  if (path.length === 0) return value;
  const [key, ...rest] = path;
  if (Array.isArray(node)) return node.map((item, i) => (String(i) === key ? replaced(item, rest, value) : item));
  const group = node as Readonly<Record<string, unknown>>;
  return { ...group, [key]: replaced(group[key], rest, value) };
}
