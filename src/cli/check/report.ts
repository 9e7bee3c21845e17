import { readFileSync } from 'node:fs';
import type { Examination, Figures } from '../../bringup/examine.js';
import { type Look, settledSweeps } from '../../bringup/look.js';
import { Fault } from '../../core/fault.js';
import type { NoiseModel } from '../../estimate/noise.js';
import type { Outline } from '../../geometry/outline.js';
import { noisePlot, type Plot, planPlot, returnsPlot, spinPlot } from './plots.js';

const VERSION = 1;
const OPEN = '<script type="application/json" id="leeway-figures">';
const CLOSE = '</script>';

const STYLE = `
:root { color-scheme: light dark; }
body { font: 16px/1.5 system-ui, sans-serif; max-width: 44rem; margin: 2rem auto; padding: 0 1rem; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; padding: 0.3rem 0.6rem; border-bottom: 1px solid #8888; vertical-align: top; }
figure { margin: 2rem 0; }
svg { max-width: 100%; height: auto; border: 1px solid #8888; }
svg text { font-size: 11px; fill: currentColor; }
.axis { fill: none; stroke: currentColor; }
.line { fill: none; stroke: #2a6fb0; stroke-width: 2; }
.usual { fill: none; stroke: currentColor; stroke-dasharray: 5 4; }
.bar, .dot { fill: #2a6fb0; }
.rover { fill: #8884; stroke: currentColor; }
`;

/** What a report is made of. */
export interface ReportParts {
  readonly rover: string;
  readonly port: string;
  /** For people, such as 2026-05-04T09:30:00Z. */
  readonly date: string;
  readonly look: Look;
  readonly examination: Examination;
  readonly outline: Outline;
  readonly noise: NoiseModel;
}

/** @returns a page that needs nothing else: words, plots, and the figures that later checks are compared with. */
export function reportPage({ rover, port, date, look, examination, outline, noise }: ReportParts): string {
  const { items, findings, figures } = examination;
  const sweep = settledSweeps(look).at(-1);
  const plots = [
    spinPlot(examination),
    returnsPlot(examination),
    noisePlot(examination, noise),
    planPlot(sweep, outline, look.setting.mount),
  ];
  const rows = items.map(
    ({ item, verdict, what }) =>
      `<tr><th scope="row">${escapeHtml(item)}</th><td>${verdict}</td><td>${escapeHtml(what)}</td></tr>`,
  );
  const told = findings.map((finding) => `<li>${escapeHtml(`${finding.message}. Do: ${finding.remedy}`)}</li>`);
  const { layout } = look;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Bring-up of ${escapeHtml(rover)}</title>
<style>${STYLE}</style>
</head>
<body>
<h1>Bring-up of ${escapeHtml(rover)}</h1>
<p>${escapeHtml(date)}. Port ${escapeHtml(port)}, layout ${escapeHtml(layout.name)}, ${layout.baud} baud, ${(look.ended - look.settledAt).toFixed(0)} s of data.</p>
<h2>Verdicts</h2>
<table><thead><tr><th scope="col">item</th><th scope="col">verdict</th><th scope="col">measured</th></tr></thead>
<tbody>${rows.join('\n')}</tbody></table>
<h2>Findings</h2>
${told.length === 0 ? '<p>None.</p>' : `<ol>${told.join('\n')}</ol>`}
<h2>Plots</h2>
${plots.map(figure).join('\n')}
<p>This is no safety function: what was sound today may be wrong tomorrow.</p>
${OPEN}${JSON.stringify({ version: VERSION, date, figures }).replaceAll('<', '\\u003c')}${CLOSE}
</body>
</html>
`;
}

function figure({ title, words, svg }: Plot): string {
  return `<figure><figcaption><strong>${escapeHtml(title)}.</strong> ${escapeHtml(words)}</figcaption>${svg}</figure>`;
}

const escapeHtml = (text: string): string =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');

/** @returns the figures that a report keeps. @throws {Fault} BASELINE_UNREADABLE. */
export function readBaseline(file: string): Figures {
  const bad = (reason: string, cause?: unknown): Fault => new Fault('BASELINE_UNREADABLE', { file, reason }, cause);
  let page: string;
  try {
    page = readFileSync(file, 'utf8');
  } catch (cause) {
    throw bad(cause instanceof Error ? cause.message : String(cause), cause);
  }
  const from = page.indexOf(OPEN);
  const to = page.indexOf(CLOSE, from);
  if (from < 0 || to < 0) throw bad('it holds no figures');
  let kept: unknown;
  try {
    kept = JSON.parse(page.slice(from + OPEN.length, to));
  } catch (cause) {
    throw bad('its figures are damaged', cause);
  }
  if (!isKept(kept)) throw bad('its figures are of another version');
  return kept.figures;
}

const NEEDED = ['spin_hz', 'spin_spread', 'samples_per_s', 'valid_share', 'chunk_gap_s', 'skipped_share'] as const;
const OPTIONAL = ['noise_m', 'noise_at_m', 'roughness_m', 'step_m'] as const;

function isKept(value: unknown): value is { figures: Figures } {
  if (typeof value !== 'object' || value === null || !('version' in value) || value.version !== VERSION) return false;
  if (!('figures' in value) || typeof value.figures !== 'object' || value.figures === null) return false;
  const figures = value.figures as Readonly<Record<string, unknown>>;
  return (
    NEEDED.every((name) => typeof figures[name] === 'number') &&
    OPTIONAL.every((name) => typeof figures[name] === 'number' || figures[name] === null)
  );
}
