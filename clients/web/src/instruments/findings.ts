import type { Finding } from '../../../typescript/src/client.js';
import { made, part, say, show } from '../dom.js';
import { wrapAngle } from '../geometry.js';
import { clockTime, degrees } from '../units.js';
import { findingSentence, lower, sentence } from '../words.js';

/** The list of findings; it moves up in the column as soon as there is one. @param word beside the name where there is none. */
export function showFindings(findings: readonly Finding[], word: string, isKnown: boolean): void {
  const first = findings[0];
  say('findings-word', first === undefined ? word : `${findings.length}, since ${clockTime(oldest(findings))}`);
  show('findings-empty', first === undefined && isKnown);
  const box = part('findings', HTMLOListElement);
  const key = findings.map(findingSentence).join();
  if (box.dataset.key === key) return;
  box.dataset.key = key;
  box.replaceChildren(
    ...findings.map(({ code, what, remedy, fromRad, toRad }, i) =>
      made(
        'li.finding',
        made('b', `${i + 1}\u2002${sentence(what)}`),
        ...(fromRad === undefined || toRad === undefined ? [] : [made('p', placeOf(fromRad, toRad))]),
        made('p', made('b', 'Do: '), lower(remedy)),
        made('p.quiet.code', made('code', code)),
      ),
    ),
  );
  const panel = part('inst-findings', HTMLElement);
  const before = part(first === undefined ? 'inst-movers' : 'inst-senses', HTMLElement);
  if (panel.nextElementSibling !== before) before.before(panel);
}

/** @returns where, in words: bearings run to the left from ahead. */
function placeOf(from: number, to: number): string {
  const [left, right] = [wrapAngle(from), wrapAngle(to)];
  if (left >= 0 === right >= 0) {
    const [near, far] = [Math.abs(left), Math.abs(right)].sort((a, b) => a - b);
    return `from ${degrees(near)} to ${degrees(far)} ${left >= 0 ? 'left' : 'right'}`;
  }
  const side = (angle: number): string => `${degrees(Math.abs(angle))} ${angle >= 0 ? 'left' : 'right'}`;
  return `from ${side(left)} to ${side(right)}`;
}

function oldest(findings: readonly Finding[]): number {
  return findings.reduce((least, { sinceS }) => Math.min(least, sinceS), Infinity);
}
