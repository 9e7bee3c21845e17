import { isoTime } from '../../core/clock.js';
import { explain, type FaultCode, faultCodes } from '../../core/fault.js';
import { rangeSigma } from '../../estimate/noise.js';
import { type About, MOMENT_COLUMNS, type Moment, type RunNote } from '../format.js';
import { escapeText, type Row, sign, timeChart, timeText } from './drawing.js';
import type { ReportData, ReportSetting } from './gather.js';
import { nearPlan, noiseChart, pathPlan } from './plans.js';
import { STYLE } from './style.js';

/** What heads a report. */
export interface ReportFacts {
  readonly about: About;
  /** s, Clock: its end. */
  readonly until: number;
  /** s, to be added to times for the wall clock as it was known at the end. */
  readonly wallLead: number;
  readonly bytes: number;
  /** Version of the program that perceived it now. */
  readonly version: string;
  /** What was set otherwise than on the day, as on the command line. */
  readonly changed: readonly string[];
}

const BLIND = 3;
const SIGNS_MAX = 400;
const EVENTS_MAX = 60;
const SHOWN: ReadonlySet<string> = new Set(['mark', 'mover', 'stop_distance', 'finding', 'lost_bytes']);

/** @returns the column of that name of every moment. */
export function column(moments: readonly Moment[], name: (typeof MOMENT_COLUMNS)[number]): Array<number | null> {
  const index = MOMENT_COLUMNS.indexOf(name);
  return moments.map(({ values }) => values[index]);
}

/** @returns s since `began`: stretches in which nothing was vouched for. */
function blindStretches(moments: readonly Moment[], began: number): Array<readonly [number, number]> {
  const stretches: Array<[number, number]> = [];
  const states = column(moments, 'state');
  moments.forEach(({ at }, i) => {
    if (states[i] !== BLIND) return;
    const last = stretches.at(-1);
    const from = Math.max(0, at - began - 1);
    if (last && from - last[1] < 0.5) last[1] = at - began;
    else stretches.push([from, at - began]);
  });
  return stretches;
}

/** A report that needs nothing but itself: to be looked at, printed and sent. */
export function reportPage(data: ReportData, setting: ReportSetting, facts: ReportFacts): string {
  const { about, until } = facts;
  const span = until - about.began_s;
  const blind = blindStretches(data.moments, about.began_s);
  const when = isoTime(about.began_s + facts.wallLead);
  const title = about.title || `Run of ${dayText(when)}, ${when.slice(11, 16)} UTC`;
  return page(
    title,
    `<header><div class="band"><div><p class="kicker">${escapeText(about.rover)}</p><h1>${escapeText(title)}</h1></div>
<p class="stamp"><b>RUN</b> ${escapeText(about.name)}</p></div>
<p class="verdict">${verdict(data, setting, span, blind)}</p>
<dl class="figures">${figures(data, facts, span)}</dl></header>
<section><h2>Where it went</h2><div class="sheet">${pathPlan(data, setting.outline.corners)}
<p class="titleblock"><span><i class="key face"></i>wall</span><span><i class="key dots"></i>echoes</span><span><i class="key driven"></i>path</span><span><i class="key number">1</i>close approach, below</span><span><i class="key away"></i>not seen</span><span>metres from the start, x ahead</span></p></div></section>
<section><h2>What was vouched for, and by what</h2>${overTime(data, setting, about.began_s, span, blind)}
<p class="legend">${legend()}</p></section>
<section class="keep"><h2>Closest approaches</h2>${approaches(data, setting, about.began_s)}</section>
<div class="pair"><section class="keep"><h2>Range noise</h2>${noiseChart(data, (range) => rangeSigma(setting.noise, range))}<p class="quiet">${noiseText(data, setting)}</p></section>
<section class="keep"><h2>Health</h2>${healthTable(data.events, about.began_s, until)}</section></div>
<section><h2>What happened</h2>${eventTable(data.events, about.began_s, facts.wallLead)}</section>
<footer><p><b>No safety function.</b> Leeway sees one plane at sensor height; glass, overhangs and drops can escape it. The rover's own stop stays in charge.</p>
<p class="quiet">Perceived anew by version ${escapeText(facts.version)} from the bytes that version ${escapeText(about.version)} recorded${facts.changed.length > 0 ? `, with ${escapeText(facts.changed.join(', '))}` : ', with the settings of the day'}. Distances are between the outline and what the sensor saw.</p></footer>`,
  );
}

/** @returns a whole page in the print's look. @param body HTML. */
export function page(title: string, body: string): string {
  return `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>${escapeText(title)} – Leeway</title><style>${STYLE}</style></head>
<body><svg width="0" height="0" class="defs" aria-hidden="true"><defs>
<pattern id="unknown" width="8" height="8" patternUnits="userSpaceOnUse" patternTransform="rotate(-45)"><rect width="8" height="8" class="film"/><path class="hatch" d="M0 0v8"/></pattern>
<pattern id="away" width="9" height="9" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><rect width="9" height="9" class="film"/><path class="hatch-away" d="M0 0v9"/></pattern>
</defs></svg><main>${body}</main></body></html>
`;
}

const MONTHS = 'January February March April May June July August September October November December'.split(' ');

/** @param when ISO 8601. @returns such as 25 November 2026. */
function dayText(when: string): string {
  return `${Number(when.slice(8, 10))} ${MONTHS[Number(when.slice(5, 7)) - 1]} ${when.slice(0, 4)}`;
}

function verdict(
  data: ReportData,
  setting: ReportSetting,
  span: number,
  blind: ReadonlyArray<readonly [number, number]>,
): string {
  const dark = blind.reduce((sum, [from, to]) => sum + to - from, 0);
  const below = data.events.filter(({ kind }) => kind === 'stop_distance').length;
  const nearest = data.near[0]?.distance;
  const parts = [
    dark < 0.5
      ? 'Senses sound throughout'
      : `Senses sound for ${percent(1 - dark / Math.max(span, 1e-9))} of the time, blind for ${dark.toFixed(0)} s`,
    nearest === undefined ? 'nothing came near' : `nearest anything came ${nearest.toFixed(2)} m`,
    below === 0
      ? `leeway ahead never below the stopping distance of ${setting.stop.toFixed(2)} m`
      : `leeway ahead fell below the stopping distance of ${setting.stop.toFixed(2)} m ${below === 1 ? 'once' : `${below} times`}`,
  ];
  return `${parts.join(' · ')}.`;
}

function figures(data: ReportData, { bytes }: ReportFacts, span: number): string {
  const speeds = data.driven / Math.max(span, 1e-9);
  const marks = data.events.filter(({ kind }) => kind === 'mark').length;
  const rows: Array<readonly [string, string, string]> = [
    ['Long', timeText(span), ''],
    ['Driven', data.driven.toFixed(1), 'm'],
    ['Mean speed', speeds.toFixed(2), 'm/s'],
    ['Sweeps', String(data.sweeps), ''],
    ['Marks', String(marks), ''],
    ['File', (bytes / 1e6).toFixed(1), 'MB'],
  ];
  return rows
    .map(
      ([name, value, unit]) => `<div><dt>${name}</dt><dd>${value}${unit ? ` <small>${unit}</small>` : ''}</dd></div>`,
    )
    .join('');
}

function overTime(
  { moments, events }: ReportData,
  setting: ReportSetting,
  began: number,
  span: number,
  blind: ReadonlyArray<readonly [number, number]>,
): string {
  const share = column(moments, 'unknown_share').map((value) => (value === null ? null : (1 - value) * 100));
  const rows: Row[] = [
    {
      name: 'Leeway ahead',
      unit: 'm, median of 1 s',
      values: column(moments, 'ahead_m'),
      line: { at: setting.stop, text: `stopping distance ${setting.stop.toFixed(2)}` },
      kind: 'leeway',
      digits: 1,
    },
    { name: 'Nearest echo', unit: 'm, from outline', values: column(moments, 'closest_m'), kind: 'ink', digits: 1 },
    { name: 'Vouched for', unit: '% of bearings', values: share, most: 100, kind: 'ink', digits: 0 },
    { name: 'Spin', unit: 'Hz', values: column(moments, 'spin_hz'), kind: 'ink', digits: 1 },
    { name: 'Echoes', unit: 'per second', values: column(moments, 'echoes_per_s'), kind: 'ink', digits: 0 },
  ];
  const signs = events
    .filter(({ kind }) => SHOWN.has(kind))
    .slice(0, SIGNS_MAX)
    .map(({ at, kind, text }) => ({ at: at - began, kind, title: text }));
  return timeChart(
    rows,
    moments.map(({ at }) => at - began),
    span,
    blind,
    signs,
  );
}

function legend(): string {
  const entries: ReadonlyArray<readonly [string, string]> = [
    ['mark', 'mark'],
    ['mover', 'something moving came close'],
    ['stop_distance', 'leeway ahead below the stopping distance'],
    ['finding', 'finding'],
  ];
  const signs = entries.map(
    ([kind, text]) => `<span><svg viewBox="-8 -8 16 16" class="sign">${sign(kind, 0, 0)}</svg>${text}</span>`,
  );
  return `${signs.join('')}<span><i class="key blind"></i>blind: nothing vouched for</span>`;
}

function approaches({ near }: ReportData, setting: ReportSetting, began: number): string {
  if (near.length === 0) return '<p class="quiet">Nothing came within 2.5 m.</p>';
  return `<div class="nears">${near.map((plan, i) => nearPlan(plan, setting.outline.corners, i + 1, began)).join('')}</div>`;
}

function noiseText({ learned }: ReportData, { noise }: ReportSetting): string {
  const said = `Line: what the settings expect, ${(noise.constant * 1000).toFixed(1)} mm near by.`;
  if (learned === undefined) return `Dots: measured, of the echoes of walls about a line through them. ${said}`;
  return `Dots: measured, of the echoes of walls about a line through them; they fit constant_m: ${learned.constant.toFixed(4)}, growth_per_m: ${learned.growth.toFixed(6)}. ${said}`;
}

/** Every finding once: how often, how long, what to do. */
function healthTable(events: readonly RunNote[], began: number, until: number): string {
  const found = new Map<string, { times: number; long: number; first: number; since: number }>();
  for (const { at, kind, text } of events) {
    if (kind !== 'finding' && kind !== 'finding_gone') continue;
    const code = text.split(':')[0];
    const row = found.get(code) ?? { times: 0, long: 0, first: at - began, since: NaN };
    if (kind === 'finding') {
      row.times++;
      row.since = at;
    } else if (!Number.isNaN(row.since)) {
      row.long += at - row.since;
      row.since = NaN;
    }
    found.set(code, row);
  }
  for (const row of found.values()) if (!Number.isNaN(row.since)) row.long += Math.max(0, until - row.since);
  if (found.size === 0) return '<p class="sound">No findings. Watched: spin, missing echoes, bytes, clock.</p>';
  const rows = [...found].map(([code, { times, long, first }]) => {
    const known = faultCodes().find((each) => each === code) as FaultCode | undefined;
    const what = known ? explain(known).text : code;
    const remedy = known ? explain(known).remedy : '';
    return `<tr><td><b>${escapeText(sentence(what))}</b><br><span class="quiet">${escapeText(remedy)}</span><br><code>${escapeText(code)}</code></td><td class="num">${times} ×</td><td class="num">${long.toFixed(1)} s</td><td class="num">${timeText(first)}</td></tr>`;
  });
  return `<table><thead><tr><th>Finding</th><th>times</th><th>in all</th><th>first at</th></tr></thead><tbody>${rows.join('')}</tbody></table>`;
}

function eventTable(events: readonly RunNote[], began: number, lead: number): string {
  const told = events.filter(({ kind }) => SHOWN.has(kind) || kind === 'clock');
  if (told.length === 0) return '<p class="quiet">Nothing: no marks, no findings, and nothing came close.</p>';
  const grouped: Array<{ note: RunNote; times: number }> = [];
  for (const note of told) {
    const last = grouped.at(-1);
    if (last && note.kind === 'finding' && subjectOf(last.note) === subjectOf(note)) last.times++;
    else grouped.push({ note, times: 1 });
  }
  const rows = grouped.slice(0, EVENTS_MAX).map(({ note: { at, kind, text }, times }) => {
    const [what, facts] = wordsOf(kind, text);
    const again =
      times > 1 ? ` <span class="quiet">and ${times - 1} ${times === 2 ? 'time' : 'times'} more</span>` : '';
    return `<tr><td class="time">${timeText(at - began)}</td><td class="time quiet">${isoTime(at + lead).slice(11, 19)}</td><td><svg viewBox="-8 -8 16 16" class="sign">${sign(kind, 0, 0)}</svg></td><td><b>${escapeText(what)}</b> ${escapeText(facts)}${again}</td></tr>`;
  });
  const more =
    grouped.length > EVENTS_MAX
      ? `<p class="quiet">… and ${grouped.length - EVENTS_MAX} more: <code>leeway runs show</code> lists all.</p>`
      : '';
  return `<table class="events"><thead><tr><th>at</th><th>UTC</th><th></th><th></th></tr></thead><tbody>${rows.join('')}</tbody></table>${more}`;
}

/** @returns what a note is about: of a finding its code. */
function subjectOf({ kind, text }: RunNote): string {
  return `${kind} ${text.split(':')[0]}`;
}

function wordsOf(kind: string, text: string): readonly [string, string] {
  if (kind === 'mark') return ['Mark:', text];
  if (kind === 'mover') return ['Something moving came close:', text];
  if (kind === 'stop_distance') return ['Below the stopping distance:', text];
  if (kind === 'clock') return ['The wall clock was set:', `${text} s ahead of the recorder`];
  if (kind === 'lost_bytes') return ['The disk could not keep up:', `${text} bytes are missing`];
  return ['Finding:', text.replace(/^[A-Z_]+: /, '')];
}

function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}`;
}

function percent(share: number): string {
  return `${(Math.max(0, share) * 100).toFixed(1)} %`;
}
