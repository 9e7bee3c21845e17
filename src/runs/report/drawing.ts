/** Pieces of SVG for the report; lengths in px of a drawing 1000 wide unless said otherwise. */

/** @returns text that means only itself in HTML and SVG. */
export function escapeText(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
}

/** @returns a number as short as a drawing needs it. */
export function px(value: number): string {
  return String(Math.round(value * 10) / 10);
}

/** @returns the step of 1, 2 or 5 times a power of ten that gives at most `most` steps over `span`. */
export function niceStep(span: number, most: number): number {
  const rough = span / most;
  const power = 10 ** Math.floor(Math.log10(rough));
  return [1, 2, 5, 10].map((factor) => factor * power).find((step) => step >= rough) ?? 10 * power;
}

const TIME_STEPS = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 43200, 86400];

/** @returns s, between the ticks of a time axis. */
export function timeStep(span: number, most: number): number {
  return TIME_STEPS.find((step) => span / step <= most) ?? 86400;
}

/** @returns such as 0:42 or 1:05:00. @param seconds since the run began. */
export function timeText(seconds: number): string {
  const whole = Math.round(Math.max(0, seconds));
  const two = (value: number): string => String(value).padStart(2, '0');
  const hours = Math.floor(whole / 3600);
  const minutes = Math.floor(whole / 60) % 60;
  return hours > 0 ? `${hours}:${two(minutes)}:${two(whole % 60)}` : `${minutes}:${two(whole % 60)}`;
}

/** Signs of what happened: a flag, a round, a triangle, a crossed square. Told apart by shape. */
export function sign(kind: string, x: number, y: number): string {
  const at = `transform="translate(${px(x)} ${px(y)})"`;
  if (kind === 'mark') return `<path ${at} class="ink-fill" d="M-4-6h8v12l-4-3.5-4 3.5z"/>`;
  if (kind === 'mover') return `<circle ${at} class="mover" r="5"/>`;
  if (kind === 'stop_distance') return `<path ${at} class="caution" d="M0-5.5 5.5 4.5h-11z"/>`;
  return `<path ${at} class="fault" d="M-4.5-4.5h9v9h-9zM-4.5 4.5l9-9"/>`;
}

/** A row of a time chart. */
export interface Row {
  readonly name: string;
  readonly unit: string;
  readonly values: ReadonlyArray<number | null>;
  /** Of the scale; least is 0 where nothing is said. */
  readonly least?: number;
  readonly most?: number;
  /** Where the band is that is in order, or a line to compare with. */
  readonly line?: Readonly<{ at: number; text: string }>;
  readonly kind: 'leeway' | 'ink';
  readonly digits: number;
}

const LEFT = 148;
const RIGHT = 992;
const ROW = 74;
const GAP = 12;

/**
 * Rows of values over one time axis, hatched where nothing was vouched for.
 * @param times s since the run began, of each value. @param blind s, stretches.
 * @param signs what happened, in a lane of its own.
 */
export function timeChart(
  rows: readonly Row[],
  times: readonly number[],
  span: number,
  blind: ReadonlyArray<readonly [number, number]>,
  signs: ReadonlyArray<Readonly<{ at: number; kind: string; title: string }>>,
): string {
  const x = (at: number): number => LEFT + ((RIGHT - LEFT) * at) / Math.max(span, 1e-9);
  const parts: string[] = [];
  for (const [i, row] of rows.entries()) parts.push(chartRow(row, times, x, i * (ROW + GAP) + 4, blind));
  const lane = rows.length * (ROW + GAP) + 12;
  for (const { at, kind, title } of signs)
    parts.push(`<g><title>${escapeText(`${timeText(at)} ${title}`)}</title>${sign(kind, x(at), lane)}</g>`);
  const axis = lane + 16;
  const step = timeStep(span, 10);
  for (let at = 0; at <= span + 1e-6; at += step)
    parts.push(
      `<path class="thin" d="M${px(x(at))} ${axis}v5"/><text class="tick mid" x="${px(x(at))}" y="${axis + 18}">${timeText(at)}</text>`,
    );
  parts.push(`<path class="thin" d="M${LEFT} ${axis}H${RIGHT}"/>`);
  return `<svg viewBox="0 0 1000 ${axis + 26}" role="img" aria-label="Values over time">${parts.join('')}</svg>`;
}

const POINTS_MAX = 880;

function chartRow(
  { name, unit, values, least = 0, most, line, kind, digits }: Row,
  times: readonly number[],
  x: (at: number) => number,
  top: number,
  blind: ReadonlyArray<readonly [number, number]>,
): string {
  const known = values.filter((value): value is number => value !== null);
  const high =
    most ?? Math.max(least + 1e-9, ...thin(known.length, (i) => known[i], Math.max), line ? line.at * 1.15 : 0);
  const y = (value: number): number =>
    top + ROW - ((ROW - 6) * (Math.min(high, Math.max(least, value)) - least)) / (high - least);
  const bottom = top + ROW;
  const parts = [`<rect class="well" x="${LEFT}" y="${top}" width="${RIGHT - LEFT}" height="${ROW}"/>`];
  const stretches = lines(values, times, x, y);
  if (kind === 'leeway')
    for (const points of stretches)
      parts.push(
        `<path class="wash" d="M${points[0].split(' ')[0]} ${bottom}L${points.join('L')}L${points[points.length - 1].split(' ')[0]} ${bottom}z"/>`,
      );
  for (const points of stretches)
    parts.push(
      `<path class="${kind === 'leeway' ? 'edge' : 'curve'}" d="M${points.join('L')}${points.length === 1 ? 'h1' : ''}"/>`,
    );
  for (const [from, to] of blind)
    parts.push(
      `<rect fill="url(#unknown)" x="${px(x(from))}" y="${top}" width="${px(Math.max(1, x(to) - x(from)))}" height="${ROW}"/>`,
    );
  if (line) {
    parts.push(`<path class="dash" d="M${LEFT} ${px(y(line.at))}H${RIGHT}"/>`);
    parts.push(
      `<text class="tick end halo" x="${RIGHT - 4}" y="${px(y(line.at) - 4)}">${escapeText(line.text)}</text>`,
    );
  }
  parts.push(`<text class="label" x="0" y="${top + 14}">${escapeText(name)}</text>`);
  parts.push(`<text class="tick" x="0" y="${top + 30}">${escapeText(unit)}</text>`);
  parts.push(`<text class="tick end" x="${LEFT - 6}" y="${top + 11}">${high.toFixed(digits)}</text>`);
  parts.push(`<text class="tick end" x="${LEFT - 6}" y="${bottom}">${least.toFixed(digits)}</text>`);
  return parts.join('');
}

/** Stretches of known values as points; of many at one place the least and the greatest stay. */
function lines(
  values: ReadonlyArray<number | null>,
  times: readonly number[],
  x: (at: number) => number,
  y: (value: number) => number,
): string[][] {
  const every = Math.max(1, Math.ceil(values.length / POINTS_MAX));
  const stretches: string[][] = [];
  let open: string[] | undefined;
  for (let i = 0; i < values.length; i += every) {
    const here = values.slice(i, i + every).filter((value): value is number => value !== null);
    if (here.length === 0) {
      open = undefined;
      continue;
    }
    if (open === undefined) {
      open = [];
      stretches.push(open);
    }
    const at = px(x(times[i]));
    const low = Math.min(...here);
    const high = Math.max(...here);
    open.push(`${at} ${px(y(high))}`);
    if (low !== high) open.push(`${at} ${px(y(low))}`);
  }
  return stretches;
}

function thin(count: number, value: (i: number) => number, pick: (...values: number[]) => number): number[] {
  let found = NaN;
  for (let i = 0; i < count; i++) found = Number.isNaN(found) ? value(i) : pick(found, value(i));
  return Number.isNaN(found) ? [] : [found];
}
