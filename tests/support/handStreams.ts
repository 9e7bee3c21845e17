import { handBlock32, handIndex22, handPacket12, handPacketN, handSample5 } from './handEncoder.js';

/** Every built-in layout, by the name that the description gives it. */
export const LAYOUT_NAMES = ['block32', 'index22', 'packet12', 'packetN', 'sample5'] as const;
export type LayoutName = (typeof LAYOUT_NAMES)[number];

/** Degrees between samples of {@link handStream}. */
export const STEP: Readonly<Record<LayoutName, number>> = {
  block32: 0.9,
  index22: 1,
  packet12: 0.9,
  packetN: 0.9,
  sample5: 0.9,
};
/** Samples in a usual packet of it. */
export const PACKET: Readonly<Record<LayoutName, number>> = {
  block32: 32,
  index22: 4,
  packet12: 12,
  packetN: 20,
  sample5: 1,
};

/** @returns sound packets of a spin from `from` degrees on, of at least `count` samples, written by hand-made encoders. */
export function handStream(name: LayoutName, from: number, count: number): number[] {
  const step = STEP[name];
  const angle = (i: number): number => (from + step * i) % 360;
  const packets = Math.ceil(count / PACKET[name]);
  const each = (make: (p: number) => number[]): number[] => Array.from({ length: packets }, (_, p) => make(p)).flat();
  switch (name) {
    case 'sample5':
      return each((i) => handSample5(angle(i), 1 + (i % 50) / 10, 30, angle(i) < step));
    case 'packet12':
      return each((p) =>
        handPacket12(
          3600,
          angle(12 * p),
          angle(12 * p + 11),
          Array.from({ length: 12 }, (_, k) => [1000 + 10 * k + p, 99] as const),
          3 * p,
        ),
      );
    case 'block32':
      return each((p) =>
        handBlock32(
          angle(32 * p),
          Array.from({ length: 32 }, (_, k) => [1000 + 10 * k + p, 0] as const),
        ),
      );
    case 'packetN': {
      const out: number[] = [];
      for (let i = 0; i < count; ) {
        const isStart = angle(i) < step;
        let n = 1;
        while (!isStart && n < 20 && angle(i + n) >= step) n++;
        out.push(
          ...handPacketN(
            isStart,
            angle(i),
            angle(i + n - 1),
            Array.from({ length: n }, (_, k) => 1000 + 10 * k + (i % 97)),
          ),
        );
        i += n;
      }
      return out;
    }
    case 'index22':
      return each((p) =>
        handIndex22(
          (Math.floor(from / 4) + p) % 90,
          300,
          Array.from({ length: 4 }, (_, k) => [1000 + 10 * k + p, 50] as const),
        ),
      );
  }
}

/** @returns `count` packets of a sensor that sends while its motor stands. */
export function handStanding(name: LayoutName, count: number): number[] {
  const each = (make: (p: number) => number[]): number[] => Array.from({ length: count }, (_, p) => make(p)).flat();
  switch (name) {
    case 'sample5':
      return each(() => handSample5(90, 1, 20, false));
    case 'packet12':
      return each((p) =>
        handPacket12(
          0,
          90,
          90,
          Array.from({ length: 12 }, () => [1000 + p, 99] as const),
          3 * p,
        ),
      );
    case 'block32':
      return each((p) =>
        handBlock32(
          90,
          Array.from({ length: 32 }, () => [1000 + p, 0] as const),
        ),
      );
    case 'packetN':
      return each((p) =>
        handPacketN(
          false,
          90,
          90,
          Array.from({ length: 20 }, () => 1000 + p),
        ),
      );
    case 'index22':
      return each((p) =>
        handIndex22(
          22,
          0,
          Array.from({ length: 4 }, () => [1000 + p, 99] as const),
        ),
      );
  }
}
