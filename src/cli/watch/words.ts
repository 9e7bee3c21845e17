import type { Clearance, Finding, Health, Hello, Motion, Mover, Movers, Opening, Shapes } from '#client';

/** Whether the picture may be believed. `stale`: connected, but no Clearance for longer than a controller may go on. */
export type Trust = 'sound' | 'degraded' | 'blind' | 'stale' | 'lost';

/** What the rover tells at one moment; what freezing keeps. */
export interface Picture {
  readonly hello: Hello | undefined;
  readonly clearance: Clearance | undefined;
  readonly health: Health | undefined;
  readonly shapes: Shapes | undefined;
  readonly movers: Movers | undefined;
  readonly motion: Motion | undefined;
  /** m, towards eight directions, counter-clockwise from ahead; 0: not vouched for. */
  readonly towards: readonly number[];
  /** s, of the newest echo; Infinity without one. */
  readonly age: number;
}

/** The connection as it is now, frozen picture or not. */
export interface Standing {
  readonly trust: Trust;
  /** When it became so, as far as this view knows. */
  readonly since: Date;
  readonly now: Date;
  /** Host and port of the daemon. */
  readonly host: string;
  /** Whether the daemon was ever heard. */
  readonly wasHeard: boolean;
  /** s without a Clearance, and until the next try to connect. */
  readonly silence: number;
  readonly retryIn: number;
  /** What the daemon says where it does not let this view in just now. */
  readonly refusal: Readonly<{ code: string; what: string; remedy: string }> | undefined;
}

/** Something to be told in a few lines: what happened and what to do. */
export interface Note {
  readonly title: string;
  readonly text: string;
  readonly todo: string;
  readonly code: string;
}

export const CAUTION = 'Not a safety function. One plane only: glass, drops and overhangs escape it.';
const NOTHING_VOUCHED = 'Nothing is vouched for now, whatever may have moved since.';
const MOVERS_TOLD = 3;

/** @returns hours, minutes and seconds, local. */
export function timeOf(date: Date): string {
  return date.toLocaleTimeString('en-GB');
}

/** @returns the state first, then since when and facts by weight. */
export function trustWords(standing: Standing, { clearance, health, age }: Picture): { head: string; facts: string[] } {
  const { trust, wasHeard, silence, retryIn } = standing;
  const since = timeOf(standing.since);
  switch (trust) {
    case 'lost': {
      const trying = retryIn > 0.5 ? `trying again in ${Math.ceil(retryIn)} s` : 'trying again';
      if (!wasHeard) return { head: `NO CONNECTION to ${standing.host}`, facts: ['nothing is vouched for', trying] };
      return { head: 'CONNECTION LOST', facts: [`at ${since}`, 'nothing is vouched for', trying] };
    }
    case 'stale':
      return { head: 'STALE', facts: [`no word for ${silence.toFixed(1)} s`, 'nothing is vouched for'] };
    case 'blind': {
      const last = age > 1 && age < Infinity ? [`last echo ${duration(age)} ago`] : [];
      return { head: 'BLIND', facts: [`since ${since}`, 'nothing is vouched for', ...last] };
    }
    default: {
      const unknown = unknownOf(clearance);
      const facts = [`since ${since}`];
      if (unknown > 0) facts.push(`unknown on ${unknown} of ${clearance?.state.length} bearings`);
      const findings = health?.findings.length ?? 0;
      if (findings > 0) facts.push(`${findings} finding${findings === 1 ? '' : 's'}`);
      if (age < Infinity) facts.push(`data ${Math.round(age * 1000)} ms old`);
      return { head: trust === 'sound' ? 'SENSES SOUND' : 'SENSES DEGRADED', facts };
    }
  }
}

/** @returns why nothing is vouched for and what to do; undefined while something is. */
export function noteOf(
  { trust, since, now, host, wasHeard, silence, refusal }: Standing,
  { health }: Picture,
): Note | undefined {
  if (trust === 'lost' && refusal !== undefined)
    return { title: sentence(refusal.what), text: NOTHING_VOUCHED, todo: refusal.remedy, code: refusal.code };
  if (trust === 'lost') {
    const long = duration((now.getTime() - since.getTime()) / 1000);
    return {
      title: wasHeard ? `No word from the daemon for ${long}` : `No word from ${host} yet`,
      text: NOTHING_VOUCHED,
      todo: "look whether the rover is on, this machine is on the rover's network, and leeway serve is up.",
      code: '',
    };
  }
  if (trust === 'stale') {
    return {
      title: `No word from the daemon for ${silence.toFixed(1)} s`,
      text: NOTHING_VOUCHED,
      todo: 'wait; where it comes again and again, look for a weak network or a busy rover.',
      code: '',
    };
  }
  if (trust !== 'blind') return undefined;
  const [finding] = health?.findings ?? [];
  const text = 'All bearings are unknown: nothing is vouched for.';
  if (finding === undefined)
    return { title: 'Nothing is seen', text, todo: 'wait for the daemon to say why.', code: '' };
  return { title: sentence(finding.what), text, todo: finding.remedy, code: finding.code };
}

/** @returns how many bearings are not seen. */
function unknownOf(clearance: Clearance | undefined): number {
  return (clearance?.state ?? []).filter((state) => state === 'unknown').length;
}

/** @returns the nearest accepted echo and the bearing of its sector's middle, m and rad; undefined: there is none. */
export function nearestOf(clearance: Clearance | undefined): { range: number; bearing: number } | undefined {
  if (clearance === undefined) return undefined;
  let k = -1;
  for (const [i, range] of clearance.nearestM.entries())
    if (Number.isFinite(range) && !(range >= (clearance.nearestM[k] ?? Infinity))) k = i;
  if (k < 0) return undefined;
  const width = (2 * Math.PI) / clearance.nearestM.length;
  return { range: clearance.nearestM[k], bearing: clearance.firstBearingRad + (k + 0.5) * width };
}

/** @returns s, age of the oldest evidence of any bearing that is seen; undefined: none is. */
export function oldestOf(clearance: Clearance | undefined): number | undefined {
  const ages = (clearance?.ageS ?? []).filter(Number.isFinite);
  return ages.length > 0 ? Math.max(...ages) : undefined;
}

/** @returns such as "35° left"; rad, counter-clockwise from ahead. */
export function bearingWords(bearing: number): string {
  const degrees = Math.round((Math.atan2(Math.sin(bearing), Math.cos(bearing)) * 180) / Math.PI);
  if (degrees === 0) return 'ahead';
  if (Math.abs(degrees) === 180) return 'behind';
  return `${Math.abs(degrees)}° ${degrees > 0 ? 'left' : 'right'}`;
}

/** @returns such as "2.10 m, 35° left". */
function placeWords(x: number, y: number): string {
  return `${Math.hypot(x, y).toFixed(2)} m, ${bearingWords(Math.atan2(y, x))}`;
}

/** @returns lines about what stands around; empty as long as the rover does not tell. */
export function shapesWords(shapes: Shapes | undefined): string[] {
  if (shapes === undefined) return [];
  const { walls, corners, openings, posts } = shapes;
  const counts = [counted(walls.length, 'wall'), counted(corners.length, 'corner'), counted(posts.length, 'post')];
  const all = counts.filter((text) => text !== '').join(', ');
  const from = ({ x1M, x2M, y1M, y2M }: Opening): number => Math.hypot(x1M + x2M, y1M + y2M) / 2;
  const [nearest] = openings.toSorted((a, b) => from(a) - from(b));
  if (nearest === undefined) return [all === '' ? 'no shapes' : all];
  const place = placeWords((nearest.x1M + nearest.x2M) / 2, (nearest.y1M + nearest.y2M) / 2);
  const others = openings.length > 1 ? ` (${openings.length - 1} more)` : '';
  return [...(all === '' ? [] : [all]), `opening ${nearest.widthM.toFixed(2)} m wide, ${place}${others}`];
}

/** @returns lines about what moves, the soonest closest first; empty as long as the rover does not tell. */
export function moversWords(movers: Movers | undefined): string[] {
  if (movers === undefined) return [];
  if (movers.movers.length === 0) return ['nothing moves'];
  const soon = (mover: Mover): number => (mover.closestM < 1 ? mover.closestInS : 1000 + mover.closestM);
  const told = movers.movers.toSorted((a, b) => soon(a) - soon(b));
  const lines = told.slice(0, MOVERS_TOLD).map((mover) => {
    const speed = Math.hypot(mover.vxMps, mover.vyMps);
    const place = `#${mover.id}: ${placeWords(mover.xM, mover.yM)}, ${speed.toFixed(1)} m/s`;
    const isComing = mover.xM * mover.vxMps + mover.yM * mover.vyMps < 0;
    return isComing
      ? `${place}, coming: ${mover.closestM.toFixed(2)} m in ${mover.closestInS.toFixed(1)} s`
      : `${place}, leaving`;
  });
  return told.length > MOVERS_TOLD ? [...lines, `and ${told.length - MOVERS_TOLD} more`] : lines;
}

/** @returns how the rover itself moves; empty as long as it does not tell. */
export function motionWords(motion: Motion | undefined): string {
  if (motion === undefined) return '';
  const speed = Math.hypot(motion.vxMps, motion.vyMps);
  const turn = Math.round((motion.turnRadps * 180) / Math.PI);
  const way = speed < 0.005 ? 'stands' : `${motion.vxMps < 0 ? 'backs' : 'drives'} at ${speed.toFixed(2)} m/s`;
  return turn === 0 ? way : `${way}, turns ${Math.abs(turn)}°/s ${turn > 0 ? 'left' : 'right'}`;
}

/** @returns what is wrong, its code and what to do, in one line. */
function findingWords({ code, what, remedy }: Finding): string {
  return `${sentence(what)} [${code}]. Do: ${remedy}`;
}

/** @returns one line that says it all, for a pipe. */
export function plainLine(standing: Standing, picture: Picture): string {
  const { clearance, health } = picture;
  const { head, facts } = trustWords(standing, picture);
  const told = [timeOf(standing.now), `${head}:`, facts.join(', ')];
  if (standing.trust !== 'sound' && standing.trust !== 'degraded') {
    const note = noteOf(standing, picture);
    if (note !== undefined) told.push(`. ${note.title}${note.code === '' ? '' : ` [${note.code}]`}. Do: ${note.todo}`);
    return told.join(' ').replace(' .', '.');
  }
  const nearest = nearestOf(clearance);
  const figures = [
    `ahead ${metres(clearance?.aheadM ?? 0)}`,
    nearest === undefined
      ? 'nothing near'
      : `nearest ${nearest.range.toFixed(2)} m at ${bearingWords(nearest.bearing)}`,
    `spin ${figure(health?.spinHz, 1, '/s')}`,
    `${figure(health?.echoesPerS, 0, ' echoes/s')}`,
    ...[motionWords(picture.motion)].filter((text) => text !== ''),
    ...shapesWords(picture.shapes),
    ...moversWords(picture.movers).map((text) => (text.startsWith('#') ? `mover ${text}` : text)),
  ];
  const findings = (health?.findings ?? []).map((finding) => `. ${findingWords(finding)}`);
  return `${told.join(' ')}; ${figures.join(', ')}${findings.join('')}`;
}

/** @returns m, or that there is none. */
export function metres(length: number): string {
  return length > 0 ? `${length.toFixed(2)} m` : 'none vouched for';
}

/** @returns the figure with its unit; a dash where it was not measured. */
export function figure(value: number | undefined, digits: number, unit: string): string {
  return value === undefined || Number.isNaN(value) ? '–' : `${value.toFixed(digits)}${unit}`;
}

/** @returns the text with a capital. */
export function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function duration(seconds: number): string {
  if (seconds < 10) return `${seconds.toFixed(1)} s`;
  if (seconds < 120) return `${Math.round(seconds)} s`;
  return seconds < 7200 ? `${Math.round(seconds / 60)} min` : `${Math.round(seconds / 3600)} h`;
}

function counted(count: number, what: string): string {
  return count === 0 ? '' : `${count} ${what}${count === 1 ? '' : 's'}`;
}
