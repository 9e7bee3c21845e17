import { Fault } from '../../core/fault.js';
import { block32 } from './block32.js';
import { index22 } from './index22.js';
import type { Layout } from './layout.js';
import { packet12 } from './packet12.js';
import { packetN } from './packetN.js';
import { sample5 } from './sample5.js';

/** Every layout that comes along, by name. */
export const builtInLayouts: readonly Layout[] = [block32, index22, packet12, packetN, sample5];

/** @returns the built-in layout of that name. @throws {Fault} LAYOUT_NOT_FOUND, with the known names. */
export function findLayout(name: string): Layout {
  const found = builtInLayouts.find((layout) => layout.name === name);
  if (!found) {
    const known = builtInLayouts.map((layout) => layout.name).join(', ');
    throw new Fault('LAYOUT_NOT_FOUND', { layout: name, known });
  }
  return found;
}
