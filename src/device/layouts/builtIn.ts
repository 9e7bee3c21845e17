import { Fault } from '../../core/fault.js';
import type { Layout } from './layout.js';
import { packet12 } from './packet12.js';
import { sample5 } from './sample5.js';

const builtIn: readonly Layout[] = [packet12, sample5];

/** @returns the built-in layout of that name. @throws {Fault} LAYOUT_NOT_FOUND, with the known names. */
export function findLayout(name: string): Layout {
  const found = builtIn.find((layout) => layout.name === name);
  if (!found)
    throw new Fault('LAYOUT_NOT_FOUND', { layout: name, known: builtIn.map((layout) => layout.name).join(', ') });
  return found;
}
