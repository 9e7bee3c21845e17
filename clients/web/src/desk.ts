import type { Up } from './sheet/view.js';
import { type Units, useUnits } from './units.js';

/** What a press on the sheet does. */
export type Tool = 'move' | 'tape' | 'pin' | 'mask';

const KEPT = 'leeway.desk'; // where the browser remembers it

/** How this person likes the page; remembered by the browser. */
export interface Desk {
  tool: Tool;
  echoes: boolean;
  figures: boolean;
  path: boolean;
  /** undefined: what suits the screen. */
  up: Up | undefined;
  units: Units;
  /** Whether single keys act; Tab, Enter and the arrows always do. */
  keys: boolean;
}

/** @returns the desk as it was left. */
export function openDesk(): Desk {
  const desk: Desk = {
    tool: 'move',
    echoes: true,
    figures: true,
    path: true,
    up: undefined,
    units: 'metric',
    keys: true,
  };
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(KEPT) ?? '{}');
    if (typeof kept === 'object' && kept !== null) {
      for (const name of ['echoes', 'figures', 'path', 'keys'] as const)
        if (name in kept && typeof Reflect.get(kept, name) === 'boolean') desk[name] = Reflect.get(kept, name);
      if (Reflect.get(kept, 'units') === 'imperial') desk.units = 'imperial';
      const up: unknown = Reflect.get(kept, 'up');
      if (up === 'plan' || up === 'cart') desk.up = up;
    }
  } catch {
    // written by something else: the desk as it comes
  }
  useUnits(desk.units);
  return desk;
}

/** Remembers the desk. */
export function keepDesk(desk: Desk): void {
  useUnits(desk.units);
  const { tool: _tool, ...kept } = desk;
  try {
    localStorage.setItem(KEPT, JSON.stringify(kept));
  } catch {
    // a browser that keeps nothing: it holds until the page closes
  }
}
