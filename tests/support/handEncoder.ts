/**
 * Encoders written from the descriptions of the layouts alone, sharing nothing with the project's declared layouts, so that decoder
 * and encoder cannot share an error. Angles as they stand on the wire.
 */

/** @param degrees angle. @param metres range, 0: none. @param strength 0..63. @returns five bytes of sample5. */
export function handSample5(degrees: number, metres: number, strength: number, isStart: boolean): number[] {
  const angle = Math.round(degrees * 64); // 1/64 degree
  const range = Math.round(metres * 1000 * 4); // 1/4 mm
  const marks = isStart ? 0b01 : 0b10; // bit 0 = S, bit 1 = not S
  return [strength * 4 + marks, (angle % 128) * 2 + 1, Math.floor(angle / 128), range % 256, Math.floor(range / 256)];
}

/** CRC-8 bit by bit: polynomial 0x4D, initial 0, not reflected. */
export function handCrc(bytes: readonly number[]): number {
  let register = 0;
  for (const byte of bytes) {
    for (let bit = 7; bit >= 0; bit--) {
      const out = register >= 128 ? 1 : 0;
      register = (register * 2) % 256;
      if (out !== ((byte >> bit) & 1)) register ^= 0x4d;
    }
  }
  return register;
}

const word = (value: number): number[] => [value % 256, Math.floor(value / 256) % 256];

/** @param samples twelve of range (mm) and strength. @returns 47 bytes of packet12. */
export function handPacket12(
  speed: number,
  firstDegrees: number,
  lastDegrees: number,
  samples: readonly (readonly [number, number])[],
  ms: number,
): number[] {
  const bytes = [0x54, 0x2c, ...word(speed), ...word(Math.round(firstDegrees * 100))];
  for (const [range, strength] of samples) bytes.push(...word(range), strength);
  bytes.push(...word(Math.round(lastDegrees * 100)), ...word(ms % 30000));
  return [...bytes, handCrc(bytes)];
}

/** One sample of block32: range in mm and the six bits of its correction as a plain number 0..63 (1/8 degree). */
export type HandCell = readonly [mm: number, correction: number];

/** @param cells thirty-two. @returns 84 bytes of block32. */
export function handBlock32(firstDegrees: number, cells: readonly HandCell[], isFresh = false): number[] {
  const bytes = word(Math.round(firstDegrees * 64) + (isFresh ? 32768 : 0));
  for (let k = 0; k < 32; k += 2) {
    const [one, two] = [cells[k], cells[k + 1]];
    bytes.push(...word(one[0] * 4 + Math.floor(one[1] / 16)), ...word(two[0] * 4 + Math.floor(two[1] / 16)));
    bytes.push((one[1] % 16) + 16 * (two[1] % 16));
  }
  let check = 0;
  for (const byte of bytes) check ^= byte;
  return [0xa0 + (check % 16), 0x50 + Math.floor(check / 16), ...bytes];
}

/** @param mm ranges, as many as the packet holds, in quarters at the finest. @returns bytes of packetN. */
export function handPacketN(
  isStart: boolean,
  firstDegrees: number,
  lastDegrees: number,
  mm: readonly number[],
): number[] {
  const angle = (degrees: number): number[] => word(Math.round(degrees * 64) * 2 + 1);
  const head = [0xaa, 0x55, isStart ? 1 : 0, mm.length, ...angle(firstDegrees), ...angle(lastDegrees)];
  const ranges = mm.flatMap((range) => word(Math.round(range * 4)));
  const check = [0, 0];
  [...head, ...ranges].forEach((byte, i) => {
    check[i % 2] ^= byte;
  });
  return [...head, ...check, ...ranges];
}

/** One sample of index22: range in mm, strength, and the two marks. */
export type HandReturn = readonly [mm: number, strength: number, mark?: 'invalid' | 'weak'];

/** @param packet 0..89. @param rpm turns a minute. @param returns four. @returns 22 bytes of index22. */
export function handIndex22(packet: number, rpm: number, returns: readonly HandReturn[]): number[] {
  const bytes = [0xfa, 0xa0 + packet, ...word(Math.round(rpm * 64))];
  for (const [mm, strength, mark] of returns) {
    bytes.push(...word(mm + (mark === 'invalid' ? 32768 : mark === 'weak' ? 16384 : 0)), ...word(strength));
  }
  let sum = 0n; // big integers, cut to 32 bits by hand
  for (let i = 0; i < 20; i += 2) sum = (sum * 2n + BigInt(bytes[i] + 256 * bytes[i + 1])) % 4294967296n;
  return [...bytes, ...word(Number(((sum % 32768n) + sum / 32768n) % 32768n))];
}
