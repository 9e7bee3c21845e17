import { made, part } from './dom.js';

/** A key and what it does: each is also a button. */
interface Key {
  readonly act: string;
  /** KeyboardEvent.key, lower case. */
  readonly key: string;
  /** As written in the help. */
  readonly cap: string;
  readonly what: string;
  readonly group: string;
}

const key = (group: string, act: string, name: string, what: string, cap = name.toUpperCase()): Key => ({
  ...{ act, cap, what, group },
  key: name,
});

const KEYS: readonly Key[] = [
  key('Tools', 'move', 'v', 'move the sheet'),
  key('Tools', 'tape', 't', 'measuring tape'),
  key('Tools', 'pin', 'p', 'pin a wall or corner'),
  key('Tools', 'mask', 'k', 'mask the rover’s own body'),
  key('Drawn', 'echoes', 'e', 'echoes'),
  key('Drawn', 'figures', 'n', 'figures'),
  key('Drawn', 'path', 'd', 'path driven'),
  key('Sheet', 'up', 'u', 'cart up, plan up'),
  key('Sheet', 'fit', 'f', 'fit'),
  key('Sheet', 'in', '+', 'nearer'),
  key('Sheet', 'out', '-', 'farther', '−'),
  key('Page', 'mark', 'm', 'mark this moment'),
  key('Page', 'record', 'r', 'record, stop recording'),
  key('Page', 'runs', 'l', 'runs'),
  key('Page', 'settings', 's', 'settings'),
  key('Page', 'units', 'y', 'metric, imperial'),
  key('Page', 'help', '?', 'these keys'),
  key('Replay', 'play', ' ', 'play, pause', 'Space'),
  key('Replay', 'step-back', ',', 'one sweep back'),
  key('Replay', 'step-on', '.', 'one sweep on'),
  key('Replay', 'event-before', '[', 'event before'),
  key('Replay', 'event-next', ']', 'next event'),
  key('Replay', 'start', 'home', 'beginning', 'Home'),
  key('Replay', 'end', 'end', 'end', 'End'),
];

const ALSO: ReadonlyArray<readonly [string, string, string]> = [
  ['Sheet', 'Arrows', 'pan; with Shift a metre'],
  ['Tools', 'Arrows', 'move the cross-hair 1 cm; with Shift 10 cm'],
  ['Tools', 'Tab', 'next corner, wall or echo'],
  ['Tools', 'Enter', 'set'],
  ['Tools', 'Backspace', 'take back'],
  ['Page', 'Ctrl Z', 'undo a setting'],
  ['Page', 'Ctrl Shift Z', 'redo it'],
  ['Page', 'Esc', 'leave the tool, then the replay'],
  ['Replay', '1 to 9', 'tenths of the run'],
  ['Replay', 'Alt − Alt =', 'slower, faster'],
];

const REPLAY_ONLY = new Set(KEYS.filter(({ group }) => group === 'Replay').map(({ act }) => act));

/** @returns the action that a press of a key means; undefined: none. */
export function actOf(event: KeyboardEvent, isReplay: boolean, areSingle: boolean): string | undefined {
  if (event.ctrlKey || event.metaKey) {
    if (event.key.toLowerCase() !== 'z') return undefined;
    return event.shiftKey ? 'redo' : 'undo';
  }
  if (event.key === 'Escape') return 'escape';
  if (event.altKey) return isReplay ? { '-': 'slower', '=': 'faster', '+': 'faster' }[event.key] : undefined;
  if (!areSingle) return undefined;
  if (isReplay && /^[1-9]$/.test(event.key)) return `tenth-${event.key}`;
  const name = event.key === '=' ? '+' : event.key.toLowerCase();
  const found = KEYS.find((each) => each.key === name);
  return found === undefined || (REPLAY_ONLY.has(found.act) && !isReplay) ? undefined : found.act;
}

/** Fills the help with every key. */
export function writeHelp(close: () => void): void {
  const dialog = part('help', HTMLDialogElement);
  if (dialog.childElementCount > 0) return;
  const groups = [...new Set(KEYS.map(({ group }) => group))];
  const button = made('button.btn', 'Close');
  button.addEventListener('click', close);
  const title = made('h2', 'Keys');
  title.id = 'help-name';
  const sections = groups.map((group) => {
    const rows: (readonly [string, string])[] = KEYS.filter((each) => each.group === group).map(({ cap, what }) => [
      cap,
      what,
    ]);
    for (const [where, cap, what] of ALSO) if (where === group) rows.push([cap, what]);
    return made(
      'section',
      made('h3', group),
      made('dl', ...rows.flatMap(([cap, what]) => [made('dt', made('kbd', cap)), made('dd', what)])),
    );
  });
  dialog.append(made('div.panel-head', title, button), made('div.help-groups', ...sections));
}
