import type { Health } from '../../../typescript/src/client.js';
import { made, part, say } from '../dom.js';

/** A figure with the scale that it stands on and the band in which it is in order. */
interface Read {
  readonly name: string;
  /** Its word beside the heading when out of band. */
  readonly word: string;
  readonly value: number;
  readonly text: string;
  readonly least: number;
  readonly most: number;
  readonly band: readonly [number, number];
}

const MINUTE = 60; // s
const NARROW = '\u202f';

/** Spin, echoes, valid share, skipped bytes, latency: each on its scale. */
export class Senses {
  readonly #skipped: { at: number; bytes: number; received: number }[] = [];
  #mostEchoes = 4000;

  /**
   * @param latency s, age of the data when it came. @param isKnown false: nothing is known of now, and no figure is shown.
   * @param now s. @param told beside the name where nothing is known.
   */
  tell(health: Health | undefined, latency: number, isKnown: boolean, now: number, told: string): void {
    const reads = this.#read(health, latency, now);
    const rows = part('senses', HTMLDListElement);
    if (rows.children.length !== 3 * reads.length)
      rows.replaceChildren(
        ...reads.flatMap(({ name }) => [made('dt', name), made('dd.meter', made('i'), made('b')), made('dd')]),
      );
    const off: string[] = [];
    for (const [i, read] of reads.entries()) {
      const isThere = isKnown && Number.isFinite(read.value);
      const isOff = isThere && !(read.value >= read.band[0] && read.value <= read.band[1]);
      if (isOff) off.push(read.word);
      const [meter, figure] = [rows.children[3 * i + 1], rows.children[3 * i + 2]];
      const text = isThere ? read.text : read.text.replace(/^.* /, '– ');
      if (figure.textContent !== text) figure.textContent = text;
      if (meter instanceof HTMLElement) place(meter, read, isThere, isOff);
    }
    const word = part('senses-word', HTMLElement);
    const text = !isKnown ? told : off.length === 0 ? 'all in band' : off.slice(0, 2).join(', ');
    if (word.textContent !== text) word.textContent = text;
    word.classList.toggle('off', isKnown && off.length > 0);
    say('senses-name', document.documentElement.dataset.time === 'replay' ? 'Senses then' : 'Senses');
  }

  #read(health: Health | undefined, latency: number, now: number): readonly Read[] {
    const spin = health?.spinHz ?? Number.NaN;
    const echoes = health?.echoesPerS ?? Number.NaN;
    const valid = 100 * (health?.validShare ?? Number.NaN);
    if (echoes > this.#mostEchoes) this.#mostEchoes = echoes;
    const { bytes, share } = this.#skippedLately(health, now);
    const age = latency * 1000;
    return [
      { name: 'Spin', word: 'spin off', value: spin, text: `${spin.toFixed(2)} Hz`, least: 0, most: 20, band: [4, 16] },
      {
        ...{ name: 'Echoes', word: 'few echoes', value: echoes, text: `${grouped(echoes)} /s` },
        ...{ least: 0, most: 1.2 * this.#mostEchoes, band: [0.25 * this.#mostEchoes, 1.2 * this.#mostEchoes] },
      },
      {
        name: 'Valid',
        word: 'valid share low',
        value: valid,
        text: `${valid.toFixed(1)} %`,
        least: 0,
        most: 100,
        band: [40, 100],
      },
      {
        ...{ name: 'Skipped', word: 'bytes skipped', value: share * 100, text: `${grouped(bytes)} bytes` },
        ...{ least: 0, most: 4, band: [0, 1] },
      },
      {
        name: 'Latency',
        word: 'data late',
        value: age,
        text: `${age.toFixed(0)} ms`,
        least: 0,
        most: 200,
        band: [0, 120],
      },
    ];
  }

  /** Bytes skipped in the last minute, and their share of all. */
  #skippedLately(health: Health | undefined, now: number): { bytes: number; share: number } {
    if (health === undefined) return { bytes: Number.NaN, share: Number.NaN };
    const kept = this.#skipped;
    const newest = { at: now, bytes: health.skippedBytes, received: health.receivedBytes };
    if (kept.length > 0 && (newest.received < kept[kept.length - 1].received || now < kept[kept.length - 1].at))
      kept.length = 0;
    if (kept.length === 0 || now - kept[kept.length - 1].at >= 1) kept.push(newest);
    while (kept.length > 1 && kept[0].at < now - MINUTE) kept.shift();
    const bytes = newest.bytes - kept[0].bytes;
    const received = newest.received - kept[0].received;
    return { bytes, share: received > 0 ? bytes / received : 0 };
  }
}

function place(meter: HTMLElement, read: Read, isThere: boolean, isOff: boolean): void {
  const part = (value: number): number =>
    Math.min(100, Math.max(0, (100 * (value - read.least)) / (read.most - read.least)));
  meter.toggleAttribute('data-idle', !isThere);
  meter.toggleAttribute('data-off', isOff);
  const [band, needle] = meter.children;
  if (!(band instanceof HTMLElement && needle instanceof HTMLElement) || !isThere) return;
  band.style.left = `${part(read.band[0])}%`;
  band.style.width = `${part(read.band[1]) - part(read.band[0])}%`;
  needle.style.left = `${part(read.value)}%`;
}

/** @returns thousands set apart by a narrow space. */
function grouped(value: number): string {
  return Number.isFinite(value)
    ? Math.round(value)
        .toString()
        .replace(/\B(?=(\d{3})+$)/g, NARROW)
    : '–';
}
