import { inColumns, type Line, type Look, line, paint, type Span, type Tone, wrap } from './lines.js';
import { type Cell, drawPlan, type Ground, MET, SIGNS } from './plan.js';
import {
  bearingWords,
  CAUTION,
  figure,
  metres,
  motionWords,
  moversWords,
  nearestOf,
  noteOf,
  oldestOf,
  type Picture,
  type Standing,
  sentence,
  shapesWords,
  timeOf,
  trustWords,
} from './words.js';

/** Everything that is on the screen. */
export interface State {
  readonly standing: Standing;
  readonly picture: Picture;
  /** When the picture was frozen; undefined: it is live. */
  readonly frozenAt: Date | undefined;
  /** m, from the rover to the nearer edge of the plan. */
  readonly radius: number;
  readonly isHelp: boolean;
  readonly look: Look;
}

const WORDS_WIDTH = 34; // columns beside the plan, at least
const WORDS_MOST = 56;
const NEEDED = 7; // weight of words that are cut rather than left out
const PLAN_LEAST = { columns: 24, rows: 8 }; // smaller ones show nothing: then words alone
const HEAD_ROWS = 2;
const LOW_ROWS = 12; // below, there is no plan and so no legend
const LOWEST_ROWS = 6; // below, nor keys

const GROUND_TONES: Readonly<Record<Ground, Tone>> = {
  away: 'plain',
  vouched: 'good',
  unknown: 'faint',
  met: 'strong',
  open: 'calm',
  rover: 'strong',
  ahead: 'good',
  scale: 'plain',
};

const HELP = [
  'The rover stands in the middle, ahead is up. Leeway is how far evidence',
  'vouches that its outline may move before it could touch anything.',
  '',
  '+ or =     nearer          space or f  freeze the picture, go on',
  '-          farther         ?           this help',
  '0          fit by itself   q           quit, also Ctrl-C',
  '',
  'Sound: believe it. Degraded: believe it, and mend what is found.',
  'Blind, stale, lost: all leeway is 0. A frozen picture is an old one.',
  'Bearings: degrees left or right of ahead. Nearest: from the middle of the rover.',
] as const;

/**
 * Draws the state; nothing else goes in.
 * @returns `rows` lines of `columns` columns each, with the terminal's marks for bold, dim and, where wanted, colour.
 */
export function view(state: State, columns: number, rows: number): string[] {
  const { look } = state;
  const foot = [legend(look), line(CAUTION), keys(state)].slice(rows < LOW_ROWS ? 1 : 0, rows < LOWEST_ROWS ? 2 : 3);
  const bodyRows = Math.max(0, rows - HEAD_ROWS - foot.length);
  const planColumns = Math.min(columns - WORDS_WIDTH - 1, 2 * bodyRows + 8);
  const hasPlan = planColumns >= PLAN_LEAST.columns && bodyRows >= PLAN_LEAST.rows;
  const wordsColumns = Math.min(WORDS_MOST, hasPlan ? columns - planColumns - 1 : columns);
  const words = wordBlock(state, wordsColumns, bodyRows);
  const body: Line[] = state.isHelp
    ? helpLines(look, bodyRows)
    : hasPlan
      ? planLines(state, columns - wordsColumns - 1, bodyRows).map((left, i) => [...left, gap(1), ...(words[i] ?? [])])
      : words;
  const all = [titleLine(state, columns), trustLine(state), ...pad(body, bodyRows), ...foot];
  return all.slice(0, Math.max(0, rows)).map((each) => paint(inColumns(each, columns, look), look));
}

/** A line that changes seldom, so that the terminal is left alone above the first change. */
function titleLine({ picture: { hello }, standing, look }: State, columns: number): Line {
  const run = hello?.run ? `run ${hello.run}` : '';
  const simulated = hello?.source === 'simulated' ? 'simulated' : '';
  const facts = [hello?.rover ?? '', simulated, run, hello === undefined ? '' : `role ${hello.role}`];
  const left: Line = [
    { text: 'Leeway  ', tone: 'strong' },
    { text: facts.filter((text) => text !== '').join(' · '), tone: 'plain' },
  ];
  const right = `  ${standing.host}`;
  if (right.length >= columns / 2) return left;
  return [...inColumns(left, columns - right.length, look), { text: right, tone: 'faint' }];
}

function trustLine({ standing, picture, frozenAt }: State): Line {
  const { head, facts } = trustWords(standing, picture);
  const tone = { sound: 'good', degraded: 'warn', blind: 'banner', stale: 'banner', lost: 'banner' } as const;
  const mark = tone[standing.trust] === 'banner' ? ` ${head} ` : head;
  const rest: Line = [
    { text: mark, tone: tone[standing.trust] },
    { text: `  ${facts.join(' · ')}`, tone: 'plain' },
  ];
  if (frozenAt === undefined) return rest;
  const frozen = `FROZEN at ${timeOf(frozenAt)}, not live`;
  const now = tone[standing.trust] === 'banner' ? '  nothing is vouched for' : ' now';
  return [
    { text: ` ${frozen} `, tone: 'banner' },
    gap(2),
    { text: mark, tone: tone[standing.trust] },
    { text: now, tone: 'plain' },
  ];
}

function planLines({ picture, radius, look }: State, columns: number, rows: number): Line[] {
  const scene = { clearance: picture.clearance, outline: picture.hello?.outlineM ?? [], radius };
  return drawPlan(scene, columns, rows, look.isUnicode).map(spansOf);
}

/** Neighbours of one kind become one piece. */
function spansOf(cells: readonly Cell[]): Line {
  const spans: Span[] = [];
  for (const { glyph, ground } of cells) {
    const tone = GROUND_TONES[ground];
    const last = spans[spans.length - 1];
    if (last?.tone === tone) spans[spans.length - 1] = { text: last.text + glyph, tone };
    else spans.push({ text: glyph, tone });
  }
  return spans;
}

/** A paragraph of the words; of those that do not fit together, the lighter ones give way. */
interface Block {
  readonly lines: readonly Line[];
  readonly weight: number;
}

function wordBlock(state: State, width: number, rows: number): Line[] {
  const note = state.frozenAt === undefined ? noteOf(state.standing, state.picture) : undefined;
  const blocks: Block[] = [
    ...(note === undefined
      ? [{ lines: aheadLines(state.picture), weight: 9 }]
      : [{ lines: noteLines(note, width), weight: 10 }]),
    ...(note === undefined ? [{ lines: towardsLines(state), weight: 3 }] : []),
    { lines: figureLines(state.picture), weight: 8 },
    { lines: named('Movers', moversWords(state.picture.movers), width), weight: 6 },
    { lines: seenLines(state.picture, width), weight: 4 },
    { lines: findingLines(state, width, note?.code), weight: 7 },
  ].filter(({ lines }) => lines.length > 0);
  const height = (gaps: number): number => blocks.reduce((sum, { lines }) => sum + lines.length + gaps, -gaps);
  for (const light of blocks.filter(({ weight }) => weight < NEEDED).toSorted((a, b) => a.weight - b.weight))
    if (height(0) > rows) blocks.splice(blocks.indexOf(light), 1);
  const isAiry = height(1) <= rows;
  const lines = blocks.flatMap((block, i) => [...(isAiry && i > 0 ? [line('')] : []), ...block.lines]);
  return lines.length > rows ? [...lines.slice(0, rows - 1), line('… more in a higher terminal', 'faint')] : lines;
}

function aheadLines({ clearance, hello }: Picture): Line[] {
  const ahead = clearance?.aheadM ?? 0;
  const stop = hello?.stopM ?? 0;
  const isShort = !(ahead >= stop);
  const word = ahead > 0 ? (isShort ? 'below stopping distance' : 'vouched for') : '';
  return [
    [
      { text: 'Ahead     ', tone: 'plain' },
      { text: metres(ahead), tone: isShort ? 'warn' : 'strong' },
      { text: ` ${word}`, tone: 'plain' },
    ],
    line(`Stops in  ${figure(hello?.stopM, 2, ' m')} at full speed`),
  ];
}

/** Figures where the directions are: ahead above, left on the left. */
function towardsLines({ picture: { towards }, look }: State): Line[] {
  const cell = (i: number): string => ((towards[i] ?? 0) > 0 ? (towards[i] ?? 0).toFixed(2) : 'none').padStart(8);
  const front = (look.isUnicode ? SIGNS.unicode.front : SIGNS.ascii.front).padStart(6).padEnd(8);
  return [
    line('Leeway towards, m'),
    line(`${cell(1)}${cell(0)}${cell(7)}`, 'strong'),
    line(`${cell(2)}${front}${cell(6)}`, 'strong'),
    line(`${cell(3)}${cell(4)}${cell(5)}`, 'strong'),
  ];
}

function figureLines({ clearance, health }: Picture): Line[] {
  const nearest = nearestOf(clearance);
  const oldest = oldestOf(clearance);
  const isMeasured = clearance?.nearestM.some((range) => !Number.isNaN(range)) ?? false;
  const place = nearest === undefined ? 'none seen' : `${nearest.range.toFixed(2)} m, ${bearingWords(nearest.bearing)}`;
  const share = health === undefined ? undefined : health.validShare * 100;
  return [
    line(`Nearest   ${isMeasured ? place : '–'}`),
    line(`Evidence  ${oldest === undefined ? '–' : `up to ${Math.round(oldest * 1000)} ms old`}`),
    line(`Spin      ${figure(health?.spinHz, 1, ' revolutions/s')}`),
    line(`Echoes    ${figure(health?.echoesPerS, 0, '/s')}, ${figure(share, 1, ' %')} valid`),
    ...((health?.skippedBytes ?? 0) > 0 ? [line(`Skipped   ${health?.skippedBytes} bytes`)] : []),
  ];
}

function seenLines({ shapes, motion }: Picture, width: number): Line[] {
  const rover = motionWords(motion);
  return [...(rover === '' ? [] : named('Rover', [rover], width)), ...named('Shapes', shapesWords(shapes), width)];
}

function findingLines({ picture: { health } }: State, width: number, told: string | undefined): Line[] {
  if (health === undefined) return [];
  const findings = health.findings.filter(({ code }) => code !== told);
  if (findings.length === 0) return told ? [] : [line('Findings  none')];
  return findings.flatMap(({ code, what, remedy }) => [
    ...wrap(`${sentence(what)}.`, width).map((text) => line(text, 'warn')),
    ...wrap(`Do: ${remedy}`, width).map((text) => line(text)),
    line(code, 'faint'),
  ]);
}

function noteLines(
  { title, text, todo, code }: Readonly<{ title: string; text: string; todo: string; code: string }>,
  width: number,
): Line[] {
  return [
    ...wrap(`${title}.`, width).map((each) => line(each, 'strong')),
    ...wrap(text, width).map((each) => line(each)),
    ...wrap(`Do: ${todo}`, width).map((each) => line(each)),
    ...(code === '' ? [] : [line(code, 'faint')]),
  ];
}

/** Several lines under one name, each wrapped behind it. */
function named(name: string, texts: readonly string[], width: number): Line[] {
  const indent = 10;
  return texts
    .flatMap((text) => wrap(text, width - indent))
    .map((text, i) => line(`${(i === 0 ? name : '').padEnd(indent)}${text}`));
}

function legend({ isUnicode }: Look): Line {
  const signs = isUnicode ? SIGNS.unicode : SIGNS.ascii;
  return [
    { text: isUnicode ? MET.unicode : MET.ascii, tone: GROUND_TONES.met },
    { text: ' obstacle  ', tone: 'plain' },
    { text: signs.open, tone: GROUND_TONES.open },
    { text: ' clear so far  ', tone: 'plain' },
    { text: signs.vouched, tone: GROUND_TONES.vouched },
    { text: ' vouched for  ', tone: 'plain' },
    { text: signs.unknown.repeat(2), tone: GROUND_TONES.unknown },
    { text: ' unknown  blank: not vouched for', tone: 'plain' },
  ];
}

function keys({ frozenAt }: State): Line {
  return line(
    `+ nearer  - farther  0 fit  space ${frozenAt === undefined ? 'freeze' : 'go on'}  ? help  q quit`,
    'faint',
  );
}

function helpLines(_look: Look, rows: number): Line[] {
  const lines = HELP.map((text) => line(text));
  return lines.length + 2 <= rows ? [line(''), ...lines] : lines;
}

function pad(lines: readonly Line[], rows: number): Line[] {
  return Array.from({ length: rows }, (_, i) => lines[i] ?? []);
}

function gap(columns: number): Span {
  return { text: ' '.repeat(columns), tone: 'plain' };
}
