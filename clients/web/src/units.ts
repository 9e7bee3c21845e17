/** How lengths are written: metres, or decimal feet with feet and inches on the tape. */
export type Units = 'metric' | 'imperial';

const FOOT = 0.3048; // m, exactly: National Bureau of Standards, Federal Register 1959
const ROUNDING = 1e-3; // of the last digit: 3.6 comes as the 32-bit float 3.5999999 and is meant as 3.60

let units: Units = 'metric';

/** Chooses for the whole page. */
export function useUnits(chosen: Units): void {
  units = chosen;
}

/** @returns the system of units in use. */
export function unitsInUse(): Units {
  return units;
}

/** @returns the unit's sign: m or ft. */
export function lengthUnit(): string {
  return units === 'metric' ? 'm' : 'ft';
}

/** @returns the length in the unit in use. @param metres m. */
export function inUnit(metres: number): number {
  return units === 'metric' ? metres : metres / FOOT;
}

/** @returns m, of a length in the unit in use. */
export function fromUnit(length: number): number {
  return units === 'metric' ? length : length * FOOT;
}

/** @returns two decimals, cut and not rounded: a leeway is never shown longer than it is. @param metres m. */
export function cutLength(metres: number): string {
  return (Math.floor(inUnit(metres) * 100 + ROUNDING) / 100).toFixed(2);
}

/** @returns two decimals, never shorter than it is. @param metres m. */
export function fullLength(metres: number): string {
  return (Math.ceil(inUnit(metres) * 100 - ROUNDING) / 100).toFixed(2);
}

/** @returns two decimals, rounded. @param metres m. */
export function roundLength(metres: number): string {
  return inUnit(metres).toFixed(2);
}

/** @returns a measured length with one standard deviation: three decimals, or feet and inches to an eighth. @param metres m. */
export function measuredLength(metres: number, deviation: number): string {
  const isKnown = Number.isFinite(deviation);
  if (units === 'metric') return isKnown ? `${metres.toFixed(3)} ± ${deviation.toFixed(3)}` : metres.toFixed(3);
  return isKnown ? `${feetAndInches(metres)} ± ${(deviation / 0.0254).toFixed(2)}″` : feetAndInches(metres);
}

/** @returns a small length: millimetres, or inches. @param metres m. */
export function smallLength(metres: number): string {
  return units === 'metric' ? `${(metres * 1000).toFixed(1)} mm` : `${(metres / 0.0254).toFixed(2)} in`;
}

const EIGHTHS = ['', '⅛', '¼', '⅜', '½', '⅝', '¾', '⅞'];

function feetAndInches(metres: number): string {
  const eighths = Math.round((metres / 0.0254) * 8);
  const feet = Math.floor(eighths / 96);
  const inches = Math.floor((eighths % 96) / 8);
  return `${feet}′ ${inches}${EIGHTHS[eighths % 8]}″`;
}

/** @returns degrees with one decimal. @param angle rad. */
export function degrees(angle: number): string {
  const text = ((angle * 180) / Math.PI).toFixed(1);
  return `${text === '-0.0' ? '0.0' : text.replace('-', '−')}°`;
}

/** @returns hours, minutes and seconds, local. @param seconds Unix time. */
export function clockTime(seconds: number): string {
  return new Date(seconds * 1000).toLocaleTimeString('en-GB');
}

/** @returns minutes and seconds of a stretch of time, such as 12:31. @param seconds s. */
export function stretch(seconds: number): string {
  const whole = Math.max(0, Math.floor(seconds));
  const two = (n: number): string => String(n).padStart(2, '0');
  const hours = Math.floor(whole / 3600);
  const minutes = Math.floor(whole / 60) % 60;
  return hours > 0 ? `${hours}:${two(minutes)}:${two(whole % 60)}` : `${minutes}:${two(whole % 60)}`;
}
