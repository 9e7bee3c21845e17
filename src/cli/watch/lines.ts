import { styleText } from 'node:util';
import stringWidth from 'string-width';

/** How a piece of text stands out. Only `good`, `warn`, `bad` and `calm` have a colour, and none of them is told by it alone. */
export type Tone = 'plain' | 'strong' | 'faint' | 'banner' | 'good' | 'warn' | 'bad' | 'calm';

export interface Span {
  readonly text: string;
  readonly tone: Tone;
}
export type Line = readonly Span[];

/** What the terminal can show. */
export interface Look {
  readonly isUnicode: boolean;
  readonly hasColour: boolean;
}

const STYLES = {
  plain: [],
  strong: ['bold'],
  faint: ['dim'],
  banner: ['bold', 'inverse'],
  good: ['green'],
  warn: ['bold', 'yellow'],
  bad: ['bold', 'red'],
  calm: ['cyan'],
} as const;
const COLOURS: ReadonlySet<string> = new Set(['green', 'yellow', 'red', 'cyan']);
const ASCII: Readonly<Record<string, string>> = { '·': '-', '–': '-', '…': '.', '°': ' deg', '▲': '^', '█': '@' };

/** @returns a line of one piece. */
export function line(text: string, tone: Tone = 'plain'): Line {
  return [{ text, tone }];
}

/** @returns the text as the terminal can show it; what came from outside must neither break the line nor drive the terminal. */
function readable(text: string, { isUnicode }: Look): string {
  const tame = text.replaceAll(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]+/gu, ' ');
  return isUnicode ? tame : tame.replaceAll(/[^ -~]/gu, (sign) => ASCII[sign] ?? '?');
}

/** @returns the line cut or filled to exactly `width` columns. */
export function inColumns(spans: Line, width: number, look: Look): Line {
  const fitted: Span[] = [];
  let left = width;
  for (const { text, tone } of spans) {
    const shown = cut(readable(text, look), left, look);
    fitted.push({ text: shown, tone });
    left -= stringWidth(shown);
    if (left <= 0) break;
  }
  if (left > 0) fitted.push({ text: ' '.repeat(left), tone: 'plain' });
  return fitted;
}

function cut(text: string, width: number, { isUnicode }: Look): string {
  if (stringWidth(text) <= width) return text;
  const mark = isUnicode ? '…' : '.';
  let kept = '';
  for (const { segment } of new Intl.Segmenter().segment(text)) {
    if (stringWidth(kept + segment) > width - 1) break;
    kept += segment;
  }
  return width > 0 ? kept + mark : '';
}

/** @returns the text broken at spaces into pieces of at most `width` columns; a longer word is cut when it is shown. */
export function wrap(text: string, width: number): string[] {
  const pieces: string[] = [];
  let piece = '';
  for (const word of text.split(/\s+/).filter((each) => each !== '')) {
    const longer = piece === '' ? word : `${piece} ${word}`;
    if (piece !== '' && stringWidth(longer) > width) {
      pieces.push(piece);
      piece = word;
    } else piece = longer;
  }
  return piece === '' ? pieces : [...pieces, piece];
}

/** @returns the line with the terminal's own marks for its tones. */
export function paint(spans: Line, { hasColour }: Look): string {
  return spans
    .map(({ text, tone }) => {
      const styles = STYLES[tone].filter((style) => hasColour || !COLOURS.has(style));
      return styles.length === 0 ? text : styleText([...styles], text, { validateStream: false });
    })
    .join('');
}
