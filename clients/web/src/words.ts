import type { Finding, Health } from '../../typescript/src/client.js';
import { clockTime } from './units.js';

/** Whether the plan may be believed. */
export type Trust = 'sound' | 'degraded' | 'blind' | 'lost';

/** What the words are about. */
export interface View {
  readonly trust: Trust;
  /** Unix time, s, when it became so; `isWatched`: it was so when this page first looked. */
  readonly since: number;
  readonly isWatched: boolean;
  /** Whether the daemon was ever heard by this page. */
  readonly wasHeard: boolean;
  readonly health: Health | undefined;
  readonly unknown: number;
  readonly sectors: number;
  /** s, of the newest echo. */
  readonly age: number;
  /** s until the next try to connect, and how many there were. */
  readonly retryIn: number;
  readonly tries: number;
  /** What the daemon says where it refuses this page. */
  readonly refusal: Readonly<{ code: string; what: string; remedy: string }> | undefined;
  /** Version of a daemon that is older than this page. */
  readonly older: string | undefined;
  /** Unix time, s, when the daemon was found to have begun anew; undefined: it has not, or long ago. */
  readonly restarted: number | undefined;
  readonly source: string;
}

/** A box on the sheet: what happened and what to do. */
export interface Note {
  readonly title: string;
  readonly text: string;
  readonly todo: string;
  readonly steps: readonly string[];
  readonly code: string;
}

/** The line of trust: the state, then facts; of two kinds of facts a narrow screen leaves out the lesser. */
export interface Line {
  readonly head: string;
  readonly facts: ReadonlyArray<Readonly<{ text: string; isLess?: boolean }>>;
}

/** Codes under which no sensor was found yet. */
const NO_SENSOR = new Set(['PORT_MISSING', 'PORT_BUSY', 'PORT_NO_PERMISSION', 'PORT_OPEN_FAILED']);

/** @returns the line of trust: the state first, since when, then facts by weight. */
export function lineOfTrust(view: View): Line {
  const { trust, since, health, age } = view;
  if (trust === 'lost') return lostLine(view);
  const from = `${view.isWatched ? 'watched since' : 'since'} ${clockTime(since)}`;
  if (trust === 'blind') {
    const code = health?.findings[0]?.code ?? '';
    const head = NO_SENSOR.has(code) ? 'No sensor yet' : 'Blind';
    const last = age > 1 && age < 1e6 ? [{ text: `last echo ${age.toFixed(1)} s ago`, isLess: true }] : [];
    const looked = NO_SENSOR.has(code) ? `looking since ${clockTime(health?.findings[0]?.sinceS ?? since)}` : from;
    return { head, facts: [{ text: looked, isLess: true }, { text: 'nothing is vouched for' }, ...last] };
  }
  if (view.restarted !== undefined) {
    const facts = [
      { text: `at ${clockTime(view.restarted)}` },
      { text: 'start and path are new' },
      { text: `senses ${trust}`, isLess: true },
    ];
    return { head: 'Daemon restarted', facts };
  }
  const findings = health?.findings.length ?? 0;
  const facts: { text: string; isLess?: boolean }[] = [{ text: from }];
  if (view.older !== undefined)
    facts.push({ text: `this page is newer than the daemon (${view.older})`, isLess: true });
  if (findings > 0) facts.push({ text: `${findings} finding${findings === 1 ? '' : 's'}`, isLess: true });
  if (view.unknown > 0) facts.push({ text: `unknown on ${view.unknown} of ${view.sectors} bearings`, isLess: true });
  facts.push({ text: `data ${Math.round(age * 1000)} ms old` });
  return { head: `Senses ${trust}`, facts };
}

function lostLine(view: View): Line {
  const again = view.retryIn > 0.5 ? `trying again in ${Math.ceil(view.retryIn)} s` : 'trying again';
  if (!view.wasHeard)
    return {
      head: 'No connection to the daemon',
      facts: [{ text: 'nothing is vouched for', isLess: true }, { text: again }],
    };
  return {
    head: 'Connection lost',
    facts: [{ text: `at ${clockTime(view.since)}` }, { text: 'nothing here is newer', isLess: true }, { text: again }],
  };
}

/** @returns what stands on the sheet where nothing is vouched for; undefined while something is. @param now Unix time, s. */
export function noteOf(view: View, now: number): Note | undefined {
  const { trust, since, wasHeard, health, refusal } = view;
  if (trust === 'lost' && refusal !== undefined)
    return { title: sentence(refusal.what), text: '', todo: refusal.remedy, steps: [], code: refusal.code };
  if (trust === 'lost') {
    const seconds = Math.round(now - since);
    return {
      title: wasHeard
        ? `No word from the daemon for ${seconds}\u00a0second${seconds === 1 ? '' : 's'}`
        : 'No word from the daemon',
      text: wasHeard
        ? `Dashed walls are where they stood at ${clockTime(since)}. Nothing is vouched for now, whatever may have moved since.`
        : 'Nothing is vouched for.',
      todo: 'look whether the rover is on, this device is on the rover’s network, and leeway serve is up.',
      ...{ steps: [], code: '' },
    };
  }
  if (trust !== 'blind') return undefined;
  const [finding] = health?.findings ?? [];
  const text = 'All bearings are unknown.';
  if (finding === undefined)
    return { title: 'Nothing is seen', text, todo: 'wait for the daemon to say why.', steps: [], code: '' };
  const note = { title: sentence(finding.what), todo: lower(finding.remedy), code: finding.code };
  return NO_SENSOR.has(finding.code) ? { ...note, text: '', steps: NEWCOMER } : { ...note, text, steps: [] };
}

const NEWCOMER = [
  'Is the sensor’s cable in at both ends, and does its motor run?',
  'npx leeway ports lists the ports that are there; npx leeway check looks at ten seconds of data.',
  'No sensor at hand? npx leeway serve without a configuration shows the whole page with a simulated cart.',
];

/** @returns what a screen reader says when it changes: no figure that changes by itself. */
export function spoken(view: View): string {
  const { head } = lineOfTrust(view);
  const findings = view.trust === 'lost' ? [] : (view.health?.findings ?? []);
  const isNothing = view.trust === 'lost' || view.trust === 'blind';
  return [`${head}.`, isNothing ? 'Nothing is vouched for.' : '', ...findings.map(findingSentence)]
    .filter(Boolean)
    .join(' ');
}

/** @returns what happened and what to do, in two sentences. */
export function findingSentence({ what, remedy }: Finding): string {
  return `${sentence(what)}. Do: ${remedy}`;
}

/** @returns the text with a capital. */
export function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** @returns the text as it goes on after a colon. */
export function lower(text: string): string {
  return /^[A-Z][a-z]/.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
}
