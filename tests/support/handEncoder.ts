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
