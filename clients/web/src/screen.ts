import { made, part, say, show } from './dom.js';
import { unitsInUse } from './units.js';
import { type Line, lower, type Note } from './words.js';

const SPOKEN_EVERY = 2; // s between two messages to a screen reader
let spokenAt = -Infinity;

/** Writes the line of trust. */
export function writeLine(line: Line): void {
  say('trust-head', line.head);
  const box = part('trust-facts', HTMLElement);
  const key = line.facts.map(({ text }) => text).join('·');
  if (box.dataset.key === key) return;
  box.dataset.key = key;
  box.replaceChildren(
    ...line.facts.map(({ text, isLess }, i) => {
      const dot = made('span.dot', '·');
      dot.setAttribute('aria-hidden', 'true');
      const words = i === 0 ? [text] : [dot, text];
      return made(isLess ? 'span.less' : 'span', ...words);
    }),
  );
}

/** Says it to a screen reader, where it is news and the last message is old enough. */
export function speak(text: string, isAlarm: boolean, now: number): void {
  const [id, other] = isAlarm ? ['alarm', 'spoken'] : ['spoken', 'alarm'];
  if (part(id, HTMLElement).textContent === text || now - spokenAt < SPOKEN_EVERY) return;
  spokenAt = now;
  say(id, text);
  say(other, '');
}

/** Puts a note on the sheet; undefined: takes it away. */
export function writeNote(note: Note | undefined, aside: string, canRetry: boolean): void {
  show('note', note !== undefined);
  if (note === undefined) return;
  say('note-title', note.title);
  say('note-text', note.text);
  show('note-text', note.text !== '');
  say('note-aside', aside);
  show('retry', canRetry);
  const todo = part('note-do', HTMLElement);
  const key = note.todo + note.code;
  if (todo.dataset.key === key) return;
  todo.dataset.key = key;
  todo.replaceChildren(
    made('b', 'Do: '),
    lower(note.todo),
    ' ',
    ...(note.code === '' ? [] : [made('code', note.code)]),
  );
  show('note-steps', note.steps.length > 0);
  part('note-steps', HTMLElement).replaceChildren(
    ...note.steps.map((step) => made('li', made('span', ...coded(step)))),
  );
}

/** Words that are typed into a terminal stand as such. */
function coded(text: string): (Node | string)[] {
  return text.split(/(npx leeway \w+)/).map((piece) => (piece.startsWith('npx') ? made('code', piece) : piece));
}

/** The scale bar of the title block. @returns px it takes. */
export function writeScale(pxPerM: number, least: number): void {
  const unit = unitsInUse() === 'metric' ? 1 : 0.3048;
  const whole = [0.2, 0.5, 1, 2, 5, 10, 20].find((each) => each * unit * pxPerM >= least) ?? 50;
  const bar = part('scale-bar', HTMLElement);
  bar.style.width = `${(whole * unit * pxPerM).toFixed(1)}px`;
  say('scale-half', String(whole / 2));
  say('scale-all', `${whole} ${unit === 1 ? 'm' : 'ft'}`);
}

let answer: (() => void) | undefined;
let focusedBefore: Element | null = null;

/** A question on the sheet. */
export interface Question {
  readonly text: string;
  /** What the button of a yes says. */
  readonly yes: string;
  /** A line of text is asked for; what stands in it at first. */
  readonly field?: string;
  /** Done on a yes, with the line of text. */
  readonly act: (text: string) => void;
  /** Done on a no. */
  readonly drop?: () => void;
}

/** Asks on the sheet before something is done. */
export function ask({ text, yes, field, act, drop = () => {} }: Question): void {
  focusedBefore = document.activeElement;
  say('slip-text', text);
  const [good, bad] = [part('slip-yes', HTMLButtonElement), part('slip-no', HTMLButtonElement)];
  const input = part('slip-field', HTMLInputElement);
  show('slip-field', field !== undefined);
  input.value = field ?? '';
  const close = (then: () => void): void => {
    show('slip', false);
    if (focusedBefore instanceof HTMLElement) focusedBefore.focus();
    then();
  };
  good.textContent = yes;
  good.onclick = () => close(() => act(input.value.trim()));
  bad.onclick = () => close(drop);
  input.onkeydown = (event) => {
    if (event.key !== 'Enter') return;
    event.preventDefault();
    good.click();
  };
  answer = () => close(drop);
  show('slip', true);
  (field === undefined ? good : input).focus();
}

/** Takes a question away. @returns whether there was one. */
export function unask(): boolean {
  if (part('slip', HTMLElement).hidden) return false;
  answer?.();
  return true;
}

let tellingUntil = -Infinity;

/** Says for some seconds, on the sheet and to a screen reader, what was done or why it was not. @param now s. */
export function tell(text: string, now: number): void {
  say('told', text);
  show('told', true);
  tellingUntil = now + 5;
}

/** Takes away what has been told long enough. @param now s. */
export function fade(now: number): void {
  if (now > tellingUntil) show('told', false);
}
