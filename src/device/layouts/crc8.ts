/**
 * Table of a CRC-8 that is not reflected: entry v is what the byte v leaves behind.
 * @param polynomial without its top bit, such as 0x4d.
 * @source Williams 1993, "A painless guide to CRC error detection algorithms", section 10 (table-driven, not reflected).
 */
export function crc8Table(polynomial: number): Uint8Array {
  const table = new Uint8Array(256);
  for (let value = 0; value < 256; value++) {
    let rest = value;
    for (let bit = 0; bit < 8; bit++) rest = rest & 0x80 ? ((rest << 1) ^ polynomial) & 0xff : rest << 1;
    table[value] = rest;
  }
  return table;
}

/** @returns CRC-8 of bytes[first, last) by `table`, beginning from `initial`, without a final exclusive or. */
export function crc8(
  table: Readonly<Uint8Array>,
  bytes: Readonly<Uint8Array>,
  first: number,
  last: number,
  initial: number,
): number {
  let sum = initial;
  for (let i = first; i < last; i++) sum = table[sum ^ bytes[i]];
  return sum;
}
