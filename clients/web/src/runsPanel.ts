import { made, part, say, show } from './dom.js';
import type { RunRow } from './replay.js';
import { lengthUnit, roundLength, stretch } from './units.js';

/** What the list of runs asks for. */
export interface RunsActs {
  readonly play: (run: RunRow) => void;
  readonly rename: (run: RunRow) => void;
  readonly pin: (run: RunRow) => void;
  readonly remove: (run: RunRow) => void;
  readonly close: () => void;
  /** @returns why a run may not be changed, or not removed; undefined: it may. */
  readonly barred: (isRemoving: boolean) => string | undefined;
}

const EMPTY =
  'No runs yet. A run keeps every byte the sensor sends, so it can be looked at again later with better settings. Record begins one.';

/** The list of runs, over the strip; the plan stays in sight. */
export class RunsPanel {
  readonly #box = part('runs', HTMLElement);
  readonly #acts: RunsActs;
  readonly #body: HTMLElement;
  readonly #note: HTMLElement;
  #shown = '';
  #runs: readonly RunRow[] = [];
  /** Just opened: the first run takes the keys. */
  #isFresh = false;

  constructor(acts: RunsActs) {
    this.#acts = acts;
    const title = made('h2', 'Runs');
    title.id = 'runs-name';
    const close = button('Close', () => acts.close());
    const heads = ['Name', 'When', 'Long', 'Driven', 'Closest', 'Marks', 'Findings', 'Size', ''];
    const head = made(
      'tr',
      ...heads.map((text, i) => {
        const cell = made(`th${cellClass(i)}`, ...(text === '' ? [made('span.unseen', 'What to do')] : [text]));
        cell.setAttribute('scope', 'col');
        return cell;
      }),
    );
    this.#body = made('tbody');
    this.#note = made('p.panel-note');
    const table = made('table', made('thead', head), this.#body);
    table.id = 'runs-table';
    const phone = made('p.acts.phone-acts', doing('record', 'Record or stop'), doing('mark', 'Mark'));
    this.#box.append(made('div.panel-head', title, close), phone, table, this.#note);
    this.#box.addEventListener('keydown', (event) => this.#key(event));
  }

  get isOpen(): boolean {
    return !this.#box.hidden;
  }

  open(isOpen: boolean): void {
    show('runs', isOpen);
    part('runs-open', HTMLElement).setAttribute('aria-expanded', String(isOpen));
    this.#isFresh = isOpen;
    if (isOpen) this.#box.querySelector<HTMLElement>('.panel-head .btn')?.focus();
    else part('runs-open', HTMLElement).focus();
  }

  /** Fills the list. @param fault why there is none. */
  fill(runs: readonly RunRow[], fault: string, playing: string): void {
    const key = JSON.stringify([runs, fault, playing]);
    if (key === this.#shown && !this.#isFresh) return;
    this.#shown = key;
    const focused = document.activeElement?.closest('tr')?.dataset.run;
    this.#body.replaceChildren(...runs.map((run) => this.#row(run, run.name === playing)));
    show('runs-table', runs.length > 0);
    this.#note.textContent = fault !== '' ? fault : runs.length === 0 ? EMPTY : '';
    this.#note.hidden = this.#note.textContent === '';
    if (focused !== undefined) this.#body.querySelector<HTMLElement>(`tr[data-run="${CSS.escape(focused)}"]`)?.focus();
    else if (this.#isFresh) this.#body.querySelector<HTMLElement>('tr')?.focus();
    this.#isFresh = false;
    this.#runs = runs;
  }

  #row(run: RunRow, isPlaying: boolean): HTMLElement {
    const title = run.title === '' ? run.name : run.title;
    const name = made(
      'td',
      made('b', title),
      ...(run.pinned ? [made('span.tag', 'pinned')] : []),
      ...(run.cut ? [made('span.tag', 'cut off')] : []),
    );
    const began = run.beganS === null ? '–' : whenOf(run.beganS);
    const unit = lengthUnit();
    const cells = [
      name,
      made('td', began),
      figure(run.lengthS === null ? '–' : stretch(run.lengthS)),
      figure(`${roundLength(run.drivenM)} ${unit}`),
      figure(run.closestM === null ? '–' : `${roundLength(run.closestM)} ${unit}`),
      figure(String(run.marks)),
      listed(run.findings),
      figure(sizeOf(run.bytes)),
    ];
    for (const [i, cell] of cells.entries()) if (i > 2 && i < 8) cell.classList.add('roomy-cell');
    const acts = made('div.row-acts');
    const changeBarred = this.#acts.barred(false);
    const removeBarred = this.#acts.barred(true);
    const words = isPlaying ? 'Playing' : 'Replay';
    acts.append(
      named(
        button(words, () => this.#acts.play(run), isPlaying ? 'this run is shown' : undefined),
        `${words} ${title}`,
      ),
      named(
        button('Rename', () => this.#acts.rename(run), changeBarred),
        `Rename ${title}`,
      ),
      named(
        button(run.pinned ? 'Unpin' : 'Pin', () => this.#acts.pin(run), changeBarred),
        `${run.pinned ? 'Unpin' : 'Pin'} ${title}`,
      ),
      named(
        button('Delete', () => this.#acts.remove(run), removeBarred),
        `Delete ${title}`,
      ),
    );
    const row = made('tr', ...cells, made('td', acts));
    row.tabIndex = 0;
    row.dataset.run = run.name;
    row.setAttribute('aria-selected', String(isPlaying));
    return row;
  }

  /** Enter replays, N renames, P pins, Delete asks once; arrows go along the list. */
  #key(event: KeyboardEvent): void {
    const row = event.target instanceof HTMLElement ? event.target.closest('tr') : null;
    const run = this.#runs.find(({ name }) => name === row?.dataset.run);
    if (row === null || run === undefined || event.target !== row || event.ctrlKey) return;
    const { play, rename, pin, remove, barred } = this.#acts;
    const key = event.key.toLowerCase();
    if (key === 'enter') play(run);
    else if (key === 'n' && barred(false) === undefined) rename(run);
    else if (key === 'p' && barred(false) === undefined) pin(run);
    else if (key === 'delete' && barred(true) === undefined) remove(run);
    else if (key === 'arrowdown' && row.nextElementSibling instanceof HTMLElement) row.nextElementSibling.focus();
    else if (key === 'arrowup' && row.previousElementSibling instanceof HTMLElement) row.previousElementSibling.focus();
    else return;
    event.preventDefault();
    event.stopPropagation();
  }
}

function cellClass(i: number): string {
  const isFigure = i >= 2 && i <= 7;
  return `${isFigure ? '.figure' : ''}${i > 2 && i < 8 ? '.roomy-cell' : ''}`;
}

function figure(text: string): HTMLElement {
  return made('td.figure', text);
}

/** A button that a phone has no other place for. */
function doing(act: string, text: string): HTMLElement {
  const button = made('button.btn', text);
  button.dataset.do = act;
  return button;
}

/** How many, and which where one asks. */
function listed(codes: readonly string[]): HTMLElement {
  const cell = figure(String(codes.length));
  cell.title = codes.join(', ');
  return cell;
}

/** @param why it does nothing; undefined: it does. */
function button(text: string, act: () => void, why?: string): HTMLButtonElement {
  const made = document.createElement('button');
  made.type = 'button';
  made.className = 'btn';
  made.textContent = text;
  made.disabled = why !== undefined;
  made.title = why ?? '';
  made.addEventListener('click', act);
  return made;
}

function named(element: HTMLButtonElement, name: string): HTMLButtonElement {
  element.setAttribute('aria-label', name);
  return element;
}

/** @returns day and time, local: "3 June, 08:41". */
export function whenOf(seconds: number): string {
  const date = new Date(seconds * 1000);
  const day = date.toLocaleDateString('en-GB', { day: 'numeric', month: 'long' });
  return `${day}, ${date.toLocaleTimeString('en-GB').slice(0, 5)}`;
}

function sizeOf(bytes: number): string {
  return bytes < 1e6 ? `${Math.round(bytes / 1e3)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}

/** What stands beside the live strip. */
export function sayRecording(state: string, seconds: number): void {
  say(
    'time-word',
    state === 'recording' ? `recording, ${stretch(seconds)}` : state === '' ? 'recording: unknown' : 'not recording',
  );
  say('record-word', state === 'recording' ? 'Stop recording' : 'Record');
}
