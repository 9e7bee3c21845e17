import { isAbsolute } from 'node:path';
import type { SensorConfig } from '../config/config.js';
import { readLayoutFile } from '../config/layoutFile.js';
import { Fault } from '../core/fault.js';
import { findLayout } from '../device/layouts/builtIn.js';
import { flawOf } from '../device/layouts/flaw.js';
import type { Layout } from '../device/layouts/layout.js';
import { withOptions } from '../device/layouts/options.js';

/**
 * The layout that the configuration names, built in or from a file, as its options and the line's rate have it.
 * @throws {Fault} LAYOUT_NOT_FOUND, LAYOUT_BAD, LAYOUT_OPTION_BAD; of the file: CONFIG_UNREADABLE, CONFIG_YAML_BAD,
 *   CONFIG_KEY_UNKNOWN, CONFIG_VALUE_BAD.
 */
export function sensorLayout({ layout: name, layoutOptions, baud }: SensorConfig): Layout {
  const layout = withOptions(isAbsolute(name) ? layoutOfFile(name) : findLayout(name), layoutOptions);
  if (baud === undefined) return layout;
  return { ...layout, baud, samplesPerSecond: (layout.samplesPerSecond * baud) / layout.baud };
}

/** @throws {Fault} as {@link sensorLayout}. */
export function layoutOfFile(path: string): Layout {
  const { layout, place } = readLayoutFile(path);
  const flaw = flawOf(layout);
  if (flaw) throw new Fault('LAYOUT_BAD', { key: flaw.path.join('.'), limits: flaw.limits, ...place(flaw.path) });
  return layout;
}
