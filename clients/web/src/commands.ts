import { type Desk, keepDesk, type Tool } from './desk.js';
import { part } from './dom.js';
import { actOf, writeHelp } from './keys.js';

/** What a button or key sets off, by name. */
export type Acts = Readonly<Record<string, (() => void) | undefined>>;

const TOOLS: readonly Tool[] = ['move', 'tape', 'pin', 'mask'];
const LAYERS = ['echoes', 'figures', 'path'] as const;

/** Joins every button that says what it does (`data-do`) and every key to the acts. @param isReplay whether a run is played. */
export function listen(desk: Desk, acts: Acts, isReplay: () => boolean): void {
  document.addEventListener('click', (event) => {
    const button = event.target instanceof Element ? event.target.closest<HTMLElement>('[data-do]') : null;
    if (button === null || button.getAttribute('aria-disabled') === 'true') return;
    acts[button.dataset.do ?? '']?.();
  });
  document.addEventListener('keydown', (event) => {
    if (event.defaultPrevented || isTyping(event)) return;
    const act = actOf(event, isReplay(), desk.keys);
    if (act === undefined || acts[act] === undefined) return;
    const button = document.querySelector(`[data-do="${act}"]`);
    if (button?.getAttribute('aria-disabled') === 'true') return;
    event.preventDefault();
    acts[act]?.();
  });
}

/** A field takes its own keys; so does a button its space and Enter. */
function isTyping(event: KeyboardEvent): boolean {
  const { target } = event;
  if (event.key === 'Escape') return false;
  if (target instanceof HTMLInputElement) return !['radio', 'checkbox'].includes(target.type) || event.key === ' ';
  return target instanceof HTMLButtonElement && (event.key === ' ' || event.key === 'Enter');
}

/** Shows which tool is taken and which layers are drawn. */
export function showDesk(desk: Desk, up: 'plan' | 'cart'): void {
  for (const tool of TOOLS) press(tool, desk.tool === tool);
  for (const layer of LAYERS) press(layer, desk[layer]);
  part('plan', HTMLElement).dataset.tool = desk.tool;
  part('up-word', HTMLElement).textContent = up === 'cart' ? 'Cart up' : 'Plan up';
  keepDesk(desk);
}

function press(act: string, isPressed: boolean): void {
  for (const button of document.querySelectorAll(`[data-do="${act}"]`))
    button.setAttribute('aria-pressed', String(isPressed));
}

/** Marks a control as out of reach and says why; undefined: it is in reach. */
export function bar(act: string, why: string | undefined): void {
  for (const button of document.querySelectorAll<HTMLElement>(`[data-do="${act}"]`)) {
    if (why === undefined) button.removeAttribute('aria-disabled');
    else button.setAttribute('aria-disabled', 'true');
    button.title = why ?? '';
  }
}

/** Opens or closes the list of keys. */
export function toggleHelp(): void {
  const dialog = part('help', HTMLDialogElement);
  if (dialog.open) dialog.close();
  else {
    writeHelp(() => dialog.close());
    dialog.showModal();
  }
}

/** On a phone: one part of the page at a time. */
export function openTab(tab: string): void {
  part('page', HTMLElement).dataset.tab = tab;
  for (const button of document.querySelectorAll<HTMLElement>('.tabs [data-tab]')) {
    if (button.dataset.tab === tab) button.setAttribute('aria-current', 'page');
    else button.removeAttribute('aria-current');
  }
}
