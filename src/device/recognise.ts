import { Decoder } from './decoder.js';
import type { Layout } from './layouts/layout.js';

/** How well the bytes fit one layout. */
export interface LayoutFit {
  readonly layout: string;
  /** Share of the bytes that belong to packets of it, 0..1. */
  readonly share: number;
  readonly packets: number;
  /** Candidates that failed the check. */
  readonly badChecks: number;
  /** Its packets are framed, but the bearing stands still: the motor does not turn. */
  readonly isStalled: boolean;
  /** Its answer to start came: so the rate is right, even where nothing follows. */
  readonly hasAnswered: boolean;
}

/** What a verdict rests on. */
export interface Evidence {
  readonly bytes: number;
  /** One for each layout, best first. */
  readonly fits: readonly LayoutFit[];
  /** Share of the bytes that are printable ASCII, its line ends, tabs or escapes. */
  readonly textShare: number;
  /** How varied the byte values are, bits a byte: 0 all the same, 8 random. */
  readonly bitsPerByte: number;
  /**
   * The bytes are far from random, as a framed stream is when it is read at a wrong rate, or when its layout is not known. To tell
   * the two apart, listen at {@link likelyBauds}.
   */
  readonly isWrongBaudLikely: boolean;
}

/** What some seconds of bytes are. */
export interface Recognition {
  /** silence: none, or too few to say anything. noise: nothing known. */
  readonly verdict: 'layout' | 'text' | 'noise' | 'silence';
  /** With verdict layout: its name. */
  readonly layout?: string;
  /** 0..1, of the verdict. */
  readonly confidence: number;
  readonly evidence: Evidence;
}

/**
 * Share of the bytes that must belong to packets. Measured (tests/unit/device/recognise.test.ts): 0.99 at the right rate, less than
 * 0.01 at any other, in noise and in text; between them lies a line with bad contact.
 */
const FIT = 0.25;
const TEXT = 0.9;
/** Fewer bytes say nothing. */
const FEW = 16;
/** Bits a byte below which the values are not random; of n bytes also less than 3 sigma below 8, where sigma = 32.6 / n. */
const ORDER = 7.4;
const THREE_SIGMA = 98;

/**
 * Which layout bytes fit, or what else they are; they may begin anywhere. Needs no port.
 * @param bytes of a stream: 0.2 s or more, and one revolution to tell a standing bearing from a slow one.
 * @param layouts the ones to try.
 * @cost one decoding for each layout.
 */
export function recognise(bytes: Readonly<Uint8Array>, layouts: readonly Layout[]): Recognition {
  const fits = layouts.map((layout) => fitOf(bytes, layout)).sort((a, b) => b.share - a.share);
  let text = 0;
  for (const byte of bytes) if (isText(byte)) text++;
  const textShare = text / Math.max(1, bytes.length);
  const bitsPerByte = entropy(bytes);
  const isWrongBaudLikely = bytes.length >= FEW && bitsPerByte < Math.min(ORDER, 8 - THREE_SIGMA / bytes.length);
  const evidence: Evidence = { bytes: bytes.length, fits, textShare, bitsPerByte, isWrongBaudLikely };
  if (bytes.length < FEW) return { verdict: 'silence', confidence: bytes.length === 0 ? 1 : 0.5, evidence };
  const [best, second] = fits;
  if (best !== undefined && best.share >= FIT) {
    return { verdict: 'layout', layout: best.layout, confidence: best.share - (second?.share ?? 0), evidence };
  }
  if (textShare >= TEXT) return { verdict: 'text', confidence: textShare, evidence };
  return { verdict: 'noise', confidence: 1 - Math.max(best?.share ?? 0, textShare), evidence };
}

/** @returns bit/s at which sensors of these layouts send, the likeliest first: where to listen when the bytes are noise. */
export function likelyBauds(layouts: readonly Layout[]): readonly number[] {
  return [...new Set([...layouts.map(({ baud }) => baud), ...layouts.flatMap(({ otherBauds = [] }) => otherBauds)])];
}

function fitOf(bytes: Readonly<Uint8Array>, layout: Layout): LayoutFit {
  const decoder = new Decoder(layout);
  decoder.push(bytes);
  const { takenBytes, packets, badChecks, answers } = decoder.tally;
  return {
    layout: layout.name,
    share: packets === 0 ? 0 : takenBytes / Math.max(1, bytes.length - decoder.pendingBytes),
    packets,
    badChecks,
    isStalled: decoder.isStalled,
    hasAnswered: answers > 0,
  };
}

function isText(byte: number): boolean {
  return (byte >= 0x20 && byte < 0x7f) || (byte >= 0x09 && byte <= 0x0d) || byte === 0x1b;
}

/** @returns bits, -log2 of the chance that two of the bytes are alike (Rényi's entropy of order 2), estimated without bias. */
function entropy(bytes: Readonly<Uint8Array>): number {
  const counts = new Uint32Array(256);
  for (const byte of bytes) counts[byte]++;
  let alike = 0;
  for (const count of counts) alike += count * (count - 1);
  const n = bytes.length;
  return alike === 0 ? 8 : Math.min(8, -Math.log2(alike / (n * (n - 1))));
}
