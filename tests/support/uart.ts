/**
 * A serial line read at another rate than it was written at, bit by bit: 8N1, the line high when idle.
 * The receiver waits for a falling edge, samples the middle of the start bit and of each bit after it by its own clock, and
 * looks for the next edge once it has seen the middle of the stop bit. Where that is low, a framing error, the byte comes as 0x00
 * (most systems) or is dropped. Common practice of UARTs that oversample; from memory of their datasheets.
 */
export interface ReadSetting {
  /** bit/s of the sender and of the receiver. */
  readonly sent: number;
  readonly read: number;
  readonly onError: 'zero' | 'drop' | 'keep';
  /** s of idle line between bytes. Default: none. */
  readonly idle?: number;
}

/** @returns the bytes that the receiver makes of `bytes`. */
export function readAt(bytes: Readonly<Uint8Array>, { sent, read, onError, idle = 0 }: ReadSetting): Uint8Array {
  const byteTime = 10 + idle * sent; // in bits of the sender
  const end = bytes.length * byteTime;
  /** Level at time t, in bits of the sender. */
  const level = (t: number): number => {
    const i = Math.floor(t / byteTime);
    if (i >= bytes.length) return 1;
    const bit = Math.floor(t - i * byteTime);
    return bit === 0 ? 0 : bit <= 8 ? (bytes[i] >> (bit - 1)) & 1 : 1;
  };
  const width = sent / read;
  const out: number[] = [];
  for (let t = 0; t < end; ) {
    t = fallingEdge(t, level, byteTime, end);
    if (t >= end) break;
    let value = 0;
    for (let bit = 0; bit < 8; bit++) value |= level(t + (1.5 + bit) * width) << bit;
    const isWhole = level(t + 9.5 * width) === 1;
    if (isWhole || onError === 'keep') out.push(value);
    else if (onError === 'zero') out.push(0);
    t += 9.5 * width;
  }
  return Uint8Array.from(out);
}

/** @returns the next time from `t` on at which the line falls. */
function fallingEdge(t: number, level: (t: number) => number, byteTime: number, end: number): number {
  let high = level(t) === 1;
  for (let at = t; at < end; ) {
    const byte = Math.floor(at / byteTime);
    const bit = Math.floor(at - byte * byteTime);
    const next = bit >= 9 ? (byte + 1) * byteTime : byte * byteTime + bit + 1;
    const after = level(next + 1e-6);
    if (high && after === 0) return next;
    high = after === 1;
    at = next + 1e-6;
  }
  return end;
}
