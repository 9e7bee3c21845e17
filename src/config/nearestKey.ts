import type { Path } from './read.js';
import { everyKey, type Node, schema } from './schema.js';

const OTHER_GROUP = 1.5; // a slip inside a group is likelier than a key put into the wrong one

/** @param root the table of keys. @returns the known key that a person most likely meant, written as a path. */
export function nearestKey(path: Path, root: Node = schema): string {
  const own = split(path.map((part) => (typeof part === 'number' ? '' : part)));
  let best = '';
  let least = Infinity;
  for (const { path: known } of everyKey(root)) {
    const other = split(known.split('.'));
    const away = editDistance(own.name, other.name) + (own.group === other.group ? 0 : OTHER_GROUP);
    if (away >= least) continue;
    least = away;
    best = known.replaceAll('[]', '');
  }
  return best;
}

function split(parts: readonly string[]): { group: string; name: string } {
  const group = parts.slice(0, -1).filter((part) => part !== '');
  return { group: group.join('.').replaceAll('[]', ''), name: parts.at(-1) ?? '' };
}

/**
 * @returns insertions, deletions and substitutions from one word to the other.
 * @source Wagner & Fischer 1974, J. ACM 21(1):168-173, doi:10.1145/321796.321811.
 * @cost O(length of a × length of b).
 */
function editDistance(a: string, b: string): number {
  let above = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      row.push(Math.min(row[j - 1] + 1, above[j] + 1, above[j - 1] + (a[i - 1] === b[j - 1] ? 0 : 1)));
    }
    above = row;
  }
  return above[b.length];
}
