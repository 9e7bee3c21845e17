import { Decoder } from './decoder.js';
import type { Layout } from './layouts/layout.js';

/** How well the bytes fit one layout. */
export interface LayoutFit {
  readonly layout: string;
  /** Share of the bytes that belong to packets of it, 0..1. */
  readonly share: number;
  readonly packets: number;
  /** Candidates that failed the check, a packet. */
  readonly badChecks: number;
  /** Its packets are framed, but the bearing stands still. */
  readonly isStalled: boolean;
}

/** What a verdict rests on. */
export interface Evidence {
  readonly bytes: number;
  /** One for each layout, best first. */
  readonly fits: readonly LayoutFit[];
  /** Share of the bytes that are printable text or its line ends. */
  readonly textShare: number;
  /** Entropy of the byte values, bits a byte: 8 random, 0 one value only. */
  readonly bitsPerByte: number;
  /** The values are far from random, as those of a framed stream read at a wrong rate or of a layout that is not known. */
  readonly isWrongBaudLikely: boolean;
}

/** What some seconds of bytes are. */
export interface Recognition {
  readonly verdict: 'layout' | 'text' | 'noise' | 'silence';
  /** With verdict layout: its name. */
  readonly layout?: string;
  /** 0..1 */
  readonly confidence: number;
  readonly evidence: Evidence;
}

/** Share of the bytes that must belong to packets. */
const FIT = 0.5;
const TEXT = 0.9;
/** Fewer bytes say nothing. */
const FEW = 16;

/**
 * Which layout bytes fit, or what else they are; they may begin anywhere. Needs no port.
 * @param bytes some 0.3 s or more of a stream.
 * @param layouts the ones to try.
 */
export function recognise(bytes: Readonly<Uint8Array>, layouts: readonly Layout[]): Recognition {
  const fits = layouts.map((layout) => fit(bytes, layout)).sort((a, b) => b.share - a.share);
  const textShare = bytes.filter(isText).length / Math.max(1, bytes.length);
  const bitsPerByte = entropy(bytes);
  const evidence: Evidence = {
    bytes: bytes.length,
    fits,
    textShare,
    bitsPerByte,
    isWrongBaudLikely: bitsPerByte < 7.5,
  };
  if (bytes.length < FEW) return { verdict: 'silence', confidence: bytes.length === 0 ? 1 : 0.5, evidence };
  const best = fits[0];
  if (best !== undefined && best.share >= FIT) {
    return { verdict: 'layout', layout: best.layout, confidence: best.share, evidence };
  }
  if (textShare >= TEXT) return { verdict: 'text', confidence: textShare, evidence };
  return { verdict: 'noise', confidence: 1 - (best?.share ?? 0), evidence };
}

function fit(bytes: Readonly<Uint8Array>, layout: Layout): LayoutFit {
  const decoder = new Decoder(layout);
  decoder.push(bytes);
  const { takenBytes, packets, badChecks } = decoder.tally;
  return {
    layout: layout.name,
    share: takenBytes / Math.max(1, bytes.length - decoder.pendingBytes),
    packets,
    badChecks,
    isStalled: decoder.isStalled,
  };
}

function isText(byte: number): boolean {
  return (byte >= 0x20 && byte < 0x7f) || byte === 0x0a || byte === 0x0d || byte === 0x09;
}

function entropy(bytes: Readonly<Uint8Array>): number {
  const counts = new Uint32Array(256);
  for (const byte of bytes) counts[byte]++;
  let bits = 0;
  for (const count of counts) if (count > 0) bits -= (count / bytes.length) * Math.log2(count / bytes.length);
  return bits;
}
