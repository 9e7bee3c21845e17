import { SURFACES, type SurfaceName } from './world.js';

/** What a surface does to a beam. */
interface Surface {
  /** Share of the light that comes back evenly in all directions, against a white wall. */
  readonly reflectance: number;
  /** m, standard deviation of its depth: folds, leaves. */
  readonly rough: number;
  /** Share of the beams that go through a gap in it. */
  readonly gaps: number;
  /** m, how much nearer it seems than it is. */
  readonly nearer: number;
}

const MATT = { rough: 0, gaps: 0, nearer: 0 };

/** Reflectances near 900 nm: common practice, from memory. A retroreflector's is against a white wall that spreads its light. */
const TABLE: Readonly<Record<SurfaceName, Surface>> = {
  wall: { ...MATT, reflectance: 0.8 },
  wood: { ...MATT, reflectance: 0.5 },
  cloth: { ...MATT, reflectance: 0.4 },
  leaf: { reflectance: 0.5, rough: 0.02, gaps: 0.15, nearer: 0 },
  foil: { ...MATT, reflectance: 0.03 },
  strip: { ...MATT, reflectance: 100, nearer: 0.03 },
  glass: { ...MATT, reflectance: 0 },
  curtain: { reflectance: 0.5, rough: 0.03, gaps: 0.25, nearer: 0 },
};

/** By the numbers of SURFACES, then {@link BLOOM}. */
export const SURFACE: readonly Surface[] = [...SURFACES.map((name) => TABLE[name]), { ...TABLE.strip, gaps: 0.5 }];
/** The glow beside a strip: now and then it is taken for the strip itself. */
export const BLOOM = SURFACES.length;
export const GLASS = SURFACES.indexOf('glass');
export const STRIP = SURFACES.indexOf('strip');
const INDEX = 1.52; // of window glass, handbook value
/** rad: a pane sends the beam back into the receiver only this near to its normal (aperture and waviness; common practice). */
export const PANE_ECHO = 0.12;

/**
 * @param cosine of the angle between beam and normal.
 * @returns share of unpolarised light that a pane throws back, both its faces counted.
 * @source Born & Wolf, Principles of Optics, 1.5.2 (Fresnel's formulae); of two faces without interference 2 R / (1 + R).
 */
export function paneReflectance(cosine: number): number {
  const c = Math.min(1, Math.abs(cosine));
  const inside = Math.sqrt(1 - (1 - c * c) / (INDEX * INDEX));
  const across = ((c - INDEX * inside) / (c + INDEX * inside)) ** 2;
  const along = ((INDEX * c - inside) / (INDEX * c + inside)) ** 2;
  const face = (across + along) / 2;
  return (2 * face) / (1 + face);
}
