import { part, say, show } from './dom.js';
import type { Session } from './session.js';

const WAIT = 3; // s before the next try: the daemon counts wrong ones

let wrongAt = -Infinity;
let hasTried = false;

/** The way in where the daemon asks for a token. */
export function openDoor(session: Session, version: string): void {
  say('door-address', location.host);
  say('door-version', version);
  const field = part('token-text', HTMLInputElement);
  part('token', HTMLFormElement).addEventListener('submit', (event) => {
    event.preventDefault();
    if (performance.now() / 1000 - wrongAt < WAIT) return;
    hasTried = true;
    session.enter(field.value.trim());
  });
}

/** Shows the door while the daemon asks for a token. @param now s, of the page's own clock. */
export function watchDoor(session: Session, now: number): void {
  const isShut = session.refusal?.code === 'TOKEN_WRONG' && session.trust === 'lost';
  const door = part('door', HTMLElement);
  if (isShut && door.hidden) {
    wrongAt = hasTried || session.token !== undefined ? now : -Infinity;
    show('door', true);
    show('page', false);
    const field = part('token-text', HTMLInputElement);
    field.focus();
    field.select();
  } else if (!isShut && !door.hidden && session.trust !== 'lost') {
    show('door', false);
    show('page', true);
    part('token-text', HTMLInputElement).value = '';
  }
  if (door.hidden) return;
  if (hasTried && isShut && !(wrongAt > -Infinity)) wrongAt = now;
  const left = Math.ceil(WAIT - (now - wrongAt));
  const isWrong = Number.isFinite(left) && (hasTried || session.token !== undefined) && isShut;
  show('token-fault', isWrong);
  part('token-text', HTMLInputElement).setAttribute('aria-invalid', String(isWrong));
  if (isWrong) {
    const again = left > 0 ? ` Next try in ${left} s.` : '';
    say('token-fault', `That token is not known here. Look for a missing letter at either end.${again}`);
  }
}
