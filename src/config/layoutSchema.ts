import { choice, flag, group, leaf, list, maybe, neededNumber, table, text, type Value, whole } from './schema.js';

const byteIn = (why: string) =>
  leaf<number>({ preset: NaN, why }, '', 'a whole number, 0 to 4095', (value) => isWhole(value, 0, 4095), true);
const bitIn = whole({ preset: 0, why: 'its lowest bit there' }, '', 0, 7);
const place = {
  byte: byteIn('the byte that its lowest bit lies in, counted from the first of the packet or of the cell'),
  bit: bitIn,
  width: whole({ preset: 8, why: 'bits; those beyond the byte go on in the next one' }, '', 1, 16),
  more: maybe(
    group({
      byte: byteIn('where its higher bits lie, if not right behind'),
      bit: bitIn,
      width: whole({ preset: 8, why: 'how many they are' }, '', 1, 15),
    }),
  ),
};
const bits = group(place);
const signed = flag({ preset: false, why: "two's complement" });
const counts = (why: string) => neededNumber(why, '', 1e-6, 1e9);
const perMetre = group({ ...place, signed, per_m: counts('counts a metre') });
const perTurn = group({ ...place, signed, per_turn: counts('counts a turn') });
const each = <Item extends typeof bits | typeof perMetre | typeof perTurn>(of: Item) => ({
  ...list(of, { preset: [], why: 'one, or one for each of the samples that share a cell' }, 1, 16),
  isLoneAllowed: true,
});
const optionalWhole = (why: string, least: number, most: number) =>
  whole({ preset: undefined as number | undefined, why }, '', least, most);
const command = (why: string) =>
  text(
    { preset: undefined as string | undefined, why },
    'hexadecimal bytes in quotes, such as "A5 20"',
    /^([0-9A-Fa-f]{2} ?)+$/,
  );
const lines = group({
  dtr: flag({ preset: false, why: 'asserted' }),
  rts: flag({ preset: false, why: 'asserted' }),
});
const plain = leaf<boolean | string | number>(
  { preset: false, why: 'one value' },
  '',
  'true, false, text or a number',
  (value) => ['boolean', 'string', 'number'].includes(typeof value),
  true,
);

/**
 * Every key of a layout file, once: what a sensor's datasheet says, in the order in which it says it. Bytes and bits are counted
 * from 0; numbers of several bytes come with their low byte first. deploy/LAYOUT.md works through an example.
 */
export const layoutSchema = group({
  name: text({ preset: '', why: 'shown to people' }, '1 to 32 letters, digits, - and _', /^[0-9A-Za-z_-]{1,32}$/, true),
  baud: leaf<number>(
    { preset: NaN, why: 'line rate' },
    'bit/s',
    'a whole number, 1200 to 4000000 bit/s',
    (value) => isWhole(value, 1200, 4e6),
    true,
  ),
  other_bauds: list(
    whole({ preset: 0, why: 'one rate' }, 'bit/s', 1200, 4_000_000),
    { preset: [], why: 'other rates at which it may send' },
    0,
    8,
  ),
  samples_per_second: neededNumber('a first guess is enough', '1/s', 1, 1e6),
  sense: choice(
    ['clockwise', 'counterclockwise'],
    { preset: 'clockwise', why: 'how its angles run, seen from above' },
    true,
  ),
  lines: maybe(group({ running: lines, stopped: lines })),
  start: command('what makes it send'),
  stop: command('what makes it stop'),
  answer: command('what it answers once to start'),
  packet: group({
    bytes: leaf<number>(
      { preset: NaN, why: 'length; where samples are counted: without them' },
      '',
      'a whole number, 2 to 4096',
      (value) => isWhole(value, 2, 4096),
      true,
    ),
    fixed: list(
      group({
        ...place,
        values: list(
          whole({ preset: 0, why: 'one value' }, '', 0, 255),
          { preset: [], why: 'values that may stand there' },
          0,
          256,
        ),
        least: optionalWhole('or all values from here', 0, 255),
        most: optionalWhole('to here', 0, 255),
      }),
      { preset: [], why: 'what is the same in every packet' },
      1,
      16,
    ),
    check: maybe(
      group({
        kind: choice(
          ['crc8', 'xor8', 'xor16', 'sum', 'folded15'],
          { preset: 'sum', why: 'how it is worked out' },
          true,
        ),
        polynomial: whole({ preset: 0, why: 'of crc8' }, '', 0, 255),
        initial: whole({ preset: 0, why: 'of crc8' }, '', 0, 255),
        first: whole({ preset: 0, why: 'first byte that counts' }, '', 0, 4095),
        last: optionalWhole("the byte after the last one that counts; without it, the packet's end", 1, 4096),
        field: bits,
      }),
    ),
    samples: group({
      count: optionalWhole('samples in every packet', 1, 4096),
      counted: maybe(
        group({
          ...place,
          least: whole({ preset: 1, why: 'fewest in a packet' }, '', 1, 65_535),
          most: whole({ preset: 255, why: 'most in a packet' }, '', 1, 65_535),
          usual: whole({ preset: 1, why: 'what most packets hold' }, '', 1, 65_535),
        }),
      ),
      first: byteIn('first byte of the first cell'),
      stride: leaf<number>(
        { preset: NaN, why: 'bytes from cell to cell' },
        '',
        'a whole number, 1 to 255',
        (value) => isWhole(value, 1, 255),
        true,
      ),
    }),
    angle: group({
      kind: choice(['each', 'ends', 'next', 'index'], { preset: 'ends', why: 'where bearings come from' }, true),
      field: maybe(perTurn),
      first: maybe(perTurn),
      last: maybe(perTurn),
      zero: whole({ preset: 0, why: 'of index: the number of the first packet in a turn' }, '', 0, 65_535),
    }),
    range: each(perMetre),
    strength: maybe(each(bits)),
    no_echo: maybe(each(bits)),
    weak: maybe(
      group({ bits: each(bits), is_echo: flag({ preset: true, why: 'whether it is believed all the same' }) }),
    ),
    correction: maybe(each(perTurn)),
    start_mark: maybe(
      group({ ...place, is_alone: flag({ preset: false, why: 'such a packet holds one sample only' }) }),
    ),
    fresh_mark: maybe(bits),
    speed: maybe(group({ ...place, per_hz: counts('counts for one turn a second') })),
    time: maybe(
      group({ ...place, per_s: counts('counts a second'), wraps: counts('counts after which it starts again at 0') }),
    ),
  }),
  triangulation: maybe(
    group({
      offset_m: neededNumber('of the beam from the axis', 'm', -1, 1),
      at_m: neededNumber('the range at which beam and angle agree', 'm', 0.001, 100),
      is_done: flag({ preset: false, why: 'the sensor has done it already' }),
      empty: choice(['beam', 'angle'], { preset: 'beam', why: 'bearing of a sample without echo' }),
    }),
  ),
  options: table(
    group({
      why: text({ preset: '', why: 'shown to people' }, '1 to 200 characters', /^[^\p{C}]{1,200}$/u, true),
      sets: list(
        text({ preset: '', why: 'one place' }, 'keys with dots', /^[\w.]{1,100}$/),
        { preset: [], why: 'places that get the value' },
        1,
        16,
      ),
      preset: plain,
      values: list(plain, { preset: [], why: 'what it may be' }, 0, 16),
      least: leaf<number | undefined>(
        { preset: undefined, why: 'or a number from here' },
        '',
        'a number',
        (value) => typeof value === 'number',
      ),
      most: leaf<number | undefined>(
        { preset: undefined, why: 'to here' },
        '',
        'a number',
        (value) => typeof value === 'number',
      ),
      is_seen_on_wall: flag({ preset: false, why: 'a straight wall tells which value is right' }),
    }),
  ),
});

/** What a layout file says, in its own names. */
export type LayoutText = Value<typeof layoutSchema>;

function isWhole(value: unknown, least: number, most: number): boolean {
  return Number.isInteger(value) && (value as number) >= least && (value as number) <= most;
}
