import type { Finding, Health } from '../../typescript/src/client.js';

const ROUNDING = 1e-3; // cm: 3.6 comes as the 32-bit float 3.5999999 and is meant as 3.60

/** Whether the plan may be believed. */
export type Trust = 'sound' | 'degraded' | 'blind' | 'lost';

/** What the words are about. */
export interface View {
  readonly trust: Trust;
  /** When it became so, as far as this page knows. */
  readonly since: Date;
  /** Whether the daemon was ever heard by this page. */
  readonly wasHeard: boolean;
  readonly health: Health | undefined;
  readonly unknown: number;
  readonly sectors: number;
  /** s, of the newest echo. */
  readonly age: number;
  /** s until the next try to connect. */
  readonly retryIn: number;
  /** What the daemon says where it refuses this page. */
  readonly refusal: Readonly<{ code: string; what: string; remedy: string }> | undefined;
}

/** A box on the sheet: what happened and what to do. */
export interface Note {
  readonly title: string;
  readonly text: string;
  readonly todo: string;
  readonly code: string;
}

/** @returns hours, minutes and seconds, local. */
function timeOf(date: Date): string {
  return date.toLocaleTimeString('en-GB');
}

/** @returns the line of trust: the state first, since when, then facts by weight. */
export function lineOfTrust(view: View): { readonly head: string; readonly facts: string } {
  const { trust, since, health, age } = view;
  const facts: string[] = [];
  if (trust === 'lost') {
    if (view.refusal?.code === 'TOKEN_WRONG') return { head: 'This rover asks for a token', facts: '' };
    facts.push(view.wasHeard ? 'nothing here is newer' : 'nothing is vouched for');
    if (view.retryIn > 0.5) facts.push(`trying again in ${Math.ceil(view.retryIn)} s`);
    else facts.push('trying again');
    if (!view.wasHeard) return { head: 'No connection to the daemon', facts: joined('', facts) };
    return { head: 'Connection lost', facts: joined(`at ${timeOf(since)}`, facts) };
  }
  if (trust === 'blind') {
    facts.push('nothing is vouched for');
    if (age > 1) facts.push(`last echo ${age.toFixed(1)} s ago`);
    return { head: 'Blind', facts: joined(`since ${timeOf(since)}`, facts) };
  }
  const findings = health?.findings.length ?? 0;
  if (findings > 0) facts.push(`${findings} finding${findings === 1 ? '' : 's'}`);
  if (view.unknown > 0) facts.push(`unknown on ${view.unknown} of ${view.sectors} bearings`);
  facts.push(`data ${Math.round(age * 1000)} ms old`);
  return { head: `Senses ${trust}`, facts: joined(`since ${timeOf(since)}`, facts) };
}

/** @returns what stands on the sheet where nothing is vouched for; undefined while something is. */
export function noteOf({ trust, since, wasHeard, health, refusal }: View, now: Date): Note | undefined {
  if (trust === 'lost' && refusal !== undefined) {
    return { title: sentence(refusal.what), text: '', todo: refusal.remedy, code: refusal.code };
  }
  if (trust === 'lost') {
    const seconds = Math.round((now.getTime() - since.getTime()) / 1000);
    return {
      title: wasHeard
        ? `No word from the daemon for ${seconds}\u00a0second${seconds === 1 ? '' : 's'}`
        : 'No word from the daemon',
      text: 'Nothing is vouched for now, whatever may have moved since.',
      todo: "Look whether the rover is on, this device is on the rover's network, and leeway serve is up.",
      code: '',
    };
  }
  if (trust !== 'blind') return undefined;
  const [finding] = health?.findings ?? [];
  const text = 'All bearings are unknown.';
  if (finding === undefined)
    return { title: 'Nothing is seen', text, todo: 'Wait for the daemon to say why.', code: '' };
  return { title: sentence(finding.what), text, todo: finding.remedy, code: finding.code };
}

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

/** @returns m with two decimals, cut and not rounded: a leeway is never shown longer than it is. */
export function metres(length: number): string {
  return (Math.floor(length * 100 + ROUNDING) / 100).toFixed(2);
}

/** @returns m with two decimals, never shorter than it is. */
export function metresNeeded(length: number): string {
  return (Math.ceil(length * 100 - ROUNDING) / 100).toFixed(2);
}

/** @returns the text with a capital. */
export function sentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

function joined(first: string, facts: readonly string[]): string {
  return [first, ...facts].filter(Boolean).join(' · ');
}
