const NAMES = {
  film: '--film',
  ink: '--ink',
  graphite: '--graphite',
  ruleStrong: '--rule-strong',
  hatchAway: '--hatch-away',
  hatchUnknown: '--hatch-unknown',
  wash: '--leeway-wash',
  edge: '--leeway-edge',
  mover: '--mover',
  moverWash: '--mover-wash',
  caution: '--caution',
  cautionWash: '--caution-wash',
  tape: '--tape',
} as const;

/** Colours, pen and hatches of the sheet as the style sheet has them now; read again when the state or the screen changes. */
export type Ink = { readonly [Name in keyof typeof NAMES]: string } & {
  /** Multiplies strokes. */
  readonly pen: number;
  /** px of the root, over 16: multiplies what grows with the letters. */
  readonly rem: number;
  readonly away: CanvasPattern | string;
  readonly unknown: CanvasPattern | string;
  readonly blind: CanvasPattern | string;
  readonly mask: CanvasPattern | string;
  readonly lettering: string;
};

/** @returns the inks in force. @param scale device pixels a px. */
export function readInk(context: CanvasRenderingContext2D, scale: number): Ink {
  const style = getComputedStyle(document.documentElement);
  const colours = Object.fromEntries(
    Object.entries(NAMES).map(([name, property]) => [name, style.getPropertyValue(property).trim()]),
  ) as { [Name in keyof typeof NAMES]: string };
  const rem = Number.parseFloat(style.fontSize) / 16;
  const pen = rem * (Number.parseFloat(style.getPropertyValue('--pen')) || 1);
  const hatch = (gap: number, width: number, colour: string, isRising: boolean): CanvasPattern | string =>
    hatching(context, gap * rem, width * pen, colour, isRising, scale);
  return {
    ...colours,
    pen,
    rem,
    away: hatch(9, 0.9, colours.hatchAway, true),
    unknown: hatch(8, 1.1, colours.hatchUnknown, false),
    blind: hatch(10, 1.1, colours.hatchUnknown, false),
    mask: dots(context, 6 * rem, colours.graphite, scale),
    lettering: style.getPropertyValue('--font-lettering').trim(),
  };
}

/** Parallel lines at 45°, `gap` px apart, as a tile that fits itself. */
function hatching(
  context: CanvasRenderingContext2D,
  gap: number,
  width: number,
  colour: string,
  isRising: boolean,
  scale: number,
): CanvasPattern | string {
  const side = Math.max(4, Math.round(gap * Math.SQRT2 * scale));
  const tile = new OffscreenCanvas(side, side);
  const pen = tile.getContext('2d');
  if (pen === null) return colour;
  pen.strokeStyle = colour;
  pen.lineWidth = width * scale;
  pen.beginPath();
  for (const shift of [-side, 0, side]) {
    pen.moveTo(shift - side, isRising ? 2 * side : -side);
    pen.lineTo(shift + 2 * side, isRising ? -side : 2 * side);
  }
  pen.stroke();
  return patternOf(context, tile, scale) ?? colour;
}

function dots(context: CanvasRenderingContext2D, gap: number, colour: string, scale: number): CanvasPattern | string {
  const side = Math.max(4, Math.round(gap * scale));
  const tile = new OffscreenCanvas(side, side);
  const pen = tile.getContext('2d');
  if (pen === null) return colour;
  pen.fillStyle = colour;
  pen.beginPath();
  pen.arc(side / 2, side / 2, side / 6, 0, 2 * Math.PI);
  pen.fill();
  return patternOf(context, tile, scale) ?? colour;
}

function patternOf(context: CanvasRenderingContext2D, tile: OffscreenCanvas, scale: number): CanvasPattern | undefined {
  const pattern = context.createPattern(tile, 'repeat');
  pattern?.setTransform(new DOMMatrix().scale(1 / scale));
  return pattern ?? undefined;
}
