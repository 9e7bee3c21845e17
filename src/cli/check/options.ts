import type { Item } from '../../bringup/examine.js';
import type { Setting } from '../../config/write.js';
import { Fault } from '../../core/fault.js';
import type { Layout } from '../../device/layouts/layout.js';
import { type OptionValues, wallTrials } from '../../device/layouts/options.js';
import { settleOptions } from '../settleOptions.js';

/** What straight walls say of the layout's options. */
export interface OptionsTold {
  readonly item: Item;
  readonly findings: readonly Fault[];
  readonly settings: readonly Setting[];
}

/**
 * Tries the options that a straight wall settles on the same bytes.
 * @param layout as it is without the options of the configuration. @param values those of the configuration.
 * @returns undefined where the layout has no such options.
 */
export function optionsTold(
  bytes: Readonly<Uint8Array>,
  layout: Layout,
  values: OptionValues,
): OptionsTold | undefined {
  if (wallTrials(layout).length < 2) return undefined;
  const { values: right, trials } = settleOptions(bytes, layout);
  if (right === undefined) {
    const isSeen = trials.some(({ roughness }) => !Number.isNaN(roughness));
    const what = isSeen ? 'they make no difference to the walls in sight' : 'no wall near enough to tell';
    return { item: { item: 'options', verdict: 'sound', what }, findings: [], settings: [] };
  }
  const wrong = Object.entries(right).filter(
    ([name, value]) => (values[name] ?? layout.options?.[name]?.preset) !== value,
  );
  const told = Object.entries(right).map(([name, value]) => `${name}: ${value}`);
  const what = `walls are straight with ${told.join(', ')}`;
  if (wrong.length === 0) return { item: { item: 'options', verdict: 'sound', what }, findings: [], settings: [] };
  const named = wrong.map(([name, value]) => `${name}: ${value}`).join(', ');
  return {
    item: { item: 'options', verdict: 'doubtful', what },
    findings: [new Fault('OPTION_OFF', { text: `walls come out straight only with ${named}`, options: named })],
    settings: wrong.map(([name, value]) => ({ path: ['sensor', 'layout_options', name], value })),
  };
}
