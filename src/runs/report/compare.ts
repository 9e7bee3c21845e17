import type { MOMENT_COLUMNS, Moment, RunNote } from '../format.js';
import { escapeText, px, timeStep, timeText } from './drawing.js';
import { column, page } from './page.js';

/** One of two ways to perceive a run. */
export interface Way {
  readonly name: string;
  readonly moments: readonly Moment[];
  readonly events: readonly RunNote[];
  readonly driven: number;
}

/** A figure of both ways. */
export interface Difference {
  readonly what: string;
  readonly unit: string;
  readonly a: number;
  readonly b: number;
  readonly digits: number;
}

const TOGETHER = 2; // s within which an event of one way is that of the other

/** @returns figures of both ways, those that differ not at all too. */
export function differences(a: Way, b: Way): Difference[] {
  const pair = (what: string, unit: string, digits: number, of: (way: Way) => number): Difference => ({
    ...{ what, unit, digits },
    a: of(a),
    b: of(b),
  });
  const count = (kind: string) => (way: Way) => way.events.filter((event) => event.kind === kind).length;
  const mean = (name: (typeof MOMENT_COLUMNS)[number]) => (way: Way) => {
    const known = column(way.moments, name).filter((value): value is number => value !== null);
    return known.length === 0 ? NaN : known.reduce((sum, value) => sum + value, 0) / known.length;
  };
  const least = (name: (typeof MOMENT_COLUMNS)[number]) => (way: Way) =>
    column(way.moments, name).reduce<number>((low, value) => Math.min(low, value ?? Infinity), Infinity);
  return [
    pair('leeway ahead, mean', 'm', 3, mean('ahead_m')),
    pair('bearings vouched for, mean', '%', 2, (way) => 100 * (1 - mean('unknown_share')(way))),
    pair('nearest echo', 'm', 3, least('closest_m')),
    pair('echoes per second, mean', '', 1, mean('echoes_per_s')),
    pair('driven', 'm', 2, ({ driven }) => driven),
    pair('movers at a time, mean', '', 2, mean('movers')),
    pair('below the stopping distance', '', 0, count('stop_distance')),
    pair('movers that came close', '', 0, count('mover')),
    pair('findings', '', 0, count('finding')),
    pair('seconds blind', 's', 0, ({ moments }) => column(moments, 'state').filter((state) => state === 3).length),
  ];
}

/** @returns events of one way that the other has not, within 2 s. */
export function onlyIn(own: Way, other: Way): RunNote[] {
  return own.events.filter(
    ({ at, kind }) => !other.events.some((event) => event.kind === kind && Math.abs(event.at - at) <= TOGETHER),
  );
}

/** Two ways over one run as a page. @param began s, Clock. */
export function comparePage(run: string, a: Way, b: Way, began: number, until: number): string {
  const rows = differences(a, b).map(({ what, unit, a: left, b: right, digits }) => {
    const isSame = left.toFixed(digits) === right.toFixed(digits);
    const change = isSame ? 'the same' : `${right > left ? '+' : '−'}${Math.abs(right - left).toFixed(digits)}`;
    return `<tr><td>${what}</td><td>${left.toFixed(digits)} ${unit}</td><td>${right.toFixed(digits)} ${unit}</td><td class="${isSame ? 'quiet' : ''}">${change}</td></tr>`;
  });
  const only = [
    ...onlyIn(a, b).map((event) => ['A', event] as const),
    ...onlyIn(b, a).map((event) => ['B', event] as const),
  ]
    .sort(([, x], [, y]) => x.at - y.at)
    .slice(0, 80)
    .map(
      ([way, { at, kind, text }]) =>
        `<tr><td class="time">${timeText(at - began)}</td><td>${way} only</td><td>${escapeText(kind.replaceAll('_', ' '))}</td><td>${escapeText(text)}</td></tr>`,
    );
  const charts: ReadonlyArray<readonly [(typeof MOMENT_COLUMNS)[number], string, number]> = [
    ['ahead_m', 'Leeway ahead, m', 1],
    ['unknown_share', 'Not vouched for, share of bearings', 2],
    ['closest_m', 'Nearest echo, m', 1],
    ['movers', 'Movers', 0],
  ];
  return page(
    `${run}: two settings`,
    `<header><div class="band"><div><p class="kicker">two settings over one run</p><h1>${escapeText(run)}</h1></div></div>
<p class="verdict">A: ${escapeText(a.name)}<br>B: ${escapeText(b.name)}</p></header>
<section><h2>Differences</h2><table><thead><tr><th></th><th>A</th><th>B</th><th>B less A</th></tr></thead><tbody>${rows.join('')}</tbody></table></section>
<section><h2>Over time</h2><p class="quiet">Line: A. Dashed: B. They cover each other where they agree.</p>
${charts.map(([name, title, digits]) => `<h3 class="quiet">${title}</h3>${overlay(a, b, name, began, until, digits)}`).join('')}</section>
<section><h2>Events in one only</h2>${only.length === 0 ? '<p class="quiet">None: both tell of the same events.</p>' : `<table><tbody>${only.join('')}</tbody></table>`}</section>`,
  );
}

function overlay(
  a: Way,
  b: Way,
  name: (typeof MOMENT_COLUMNS)[number],
  began: number,
  until: number,
  digits: number,
): string {
  const [left, right, top, bottom] = [50, 992, 6, 110];
  const span = Math.max(until - began, 1e-9);
  const values = [a, b].map((way) => column(way.moments, name));
  const high = values.flat().reduce<number>((most, value) => Math.max(most, value ?? 0), 1e-9);
  const x = (at: number): number => left + ((right - left) * (at - began)) / span;
  const y = (value: number): number => bottom - ((bottom - top) * value) / high;
  const path = (way: Way, column: ReadonlyArray<number | null>): string =>
    way.moments
      .map(({ at }, i) => {
        const value = column[i];
        if (value === null) return '';
        return `${i === 0 || column[i - 1] === null ? 'M' : 'L'}${px(x(at))} ${px(y(value))}`;
      })
      .join('');
  const ticks: string[] = [];
  for (let at = 0; at <= span; at += timeStep(span, 10))
    ticks.push(
      `<path class="thin" d="M${px(x(began + at))} ${bottom}v5"/><text class="tick mid" x="${px(x(began + at))}" y="${bottom + 18}">${timeText(at)}</text>`,
    );
  return `<svg viewBox="0 0 1000 134" role="img" aria-label="${name} of both"><rect class="well" x="${left}" y="${top}" width="${right - left}" height="${bottom - top}"/>${ticks.join('')}<path class="curve" d="${path(a, values[0])}"/><path class="second" d="${path(b, values[1])}"/><text class="tick end" x="${left - 6}" y="${top + 8}">${high.toFixed(digits)}</text><text class="tick end" x="${left - 6}" y="${bottom}">0</text></svg>`;
}
