const BITS = 10; // 8N1: start, eight data, stop

/**
 * What a receiver set to another rate makes of bytes that follow each other closely.
 * @param sent bit/s. @param read bit/s.
 * @source the usual UART: a start at the first low level, each bit looked at in its middle; what lacks its stop bit is handed on all
 *   the same, as Linux does without INPCK (termios(3)).
 */
export function misread(bytes: Readonly<Uint8Array>, sent: number, read: number): Uint8Array {
  const levels = new Uint8Array(bytes.length * BITS);
  for (let i = 0; i < bytes.length; i++) {
    for (let bit = 0; bit < 8; bit++) levels[i * BITS + 1 + bit] = (bytes[i] >> bit) & 1;
    levels[i * BITS + 9] = 1;
  }
  const ratio = sent / read; // sent bits in one read bit
  const at = (place: number): number => levels[Math.floor(place)] ?? 1;
  const out: number[] = [];
  for (let place = 0; place < levels.length; ) {
    if (at(place) === 1) {
      place = Math.floor(place) + 1;
      continue;
    }
    let byte = 0;
    for (let bit = 0; bit < 8; bit++) byte |= at(place + (bit + 1.5) * ratio) << bit;
    out.push(byte);
    place += 9.5 * ratio;
    if (at(place) === 1) place = Math.floor(place) + 1;
    else while (place < levels.length && at(place) === 0) place = Math.floor(place) + 1; // a break: wait for the line to rise
  }
  return Uint8Array.from(out);
}
