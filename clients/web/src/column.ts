import { part, say } from './dom.js';
import { Ahead } from './instruments/ahead.js';
import { showFindings } from './instruments/findings.js';
import { drawNoise, drawSweep } from './instruments/graphs.js';
import { Senses } from './instruments/senses.js';
import { drawStrip } from './instruments/strip.js';
import type { Noise } from './measure/deviation.js';
import type { Marks } from './measure/marks.js';
import { Residuals } from './measure/residuals.js';
import { wallAt } from './measure/snap.js';
import type { Model } from './model.js';
import type { Replay } from './replay.js';
import type { Session } from './session.js';
import { clockTime, lengthUnit, roundLength, stretch } from './units.js';

const STRIP_SPAN = 600; // s
const CURVE_SPAN = 180; // s
const SURE = 0.5; // confidence from which a mover is one

/** What is shown: live, or a run. */
export interface Scene {
  readonly model: Model;
  readonly replay: Replay | undefined;
  /** Nothing is known of the time shown. */
  readonly isPast: boolean;
  /** Unix time shown, s. */
  readonly time: number;
}

/** The instruments beside the sheet and the strip below it. */
export class Column {
  readonly #session: Session;
  readonly #marks: Marks;
  readonly #noise: Noise;
  readonly #ahead = new Ahead();
  readonly #senses = new Senses();
  readonly #residuals = new Residuals();
  #residualsOf = 0;

  constructor(session: Session, marks: Marks, noise: Noise) {
    this.#session = session;
    this.#marks = marks;
    this.#noise = noise;
  }

  /** Colours or sizes have changed. */
  refresh(): void {
    this.#ahead.refresh();
  }

  /** Another scene: what was gathered is not of it. */
  forget(): void {
    this.#residuals.clear();
  }

  /** A sweep is complete: the echoes of the pinned wall are gathered. */
  gather(model: Model): void {
    const pin = this.#marks.pins.findLast(({ spot, isSeen }) => spot.hold === 'wall' && isSeen);
    if (pin === undefined) return;
    if (pin.number !== this.#residualsOf) this.#residuals.clear();
    this.#residualsOf = pin.number;
    const wall = wallAt(model, pin.spot);
    if (wall !== undefined) this.#residuals.add(model, wall, this.#noise(wall.distanceM));
  }

  /** Writes the figures. */
  write(scene: Scene): void {
    const { model, replay, isPast, time } = scene;
    const session = this.#session;
    const isVouched = !isPast && model.ahead > 0;
    const stop = model.hello?.stopM ?? 0;
    const free = replay === undefined ? 'vouched free' : 'as vouched then';
    const word = !isVouched ? 'not vouched for' : model.ahead < stop ? 'below stop distance' : free;
    this.#ahead.tell(model.ahead, stop, isVouched, word);
    const isKnown = replay === undefined ? session.trust !== 'lost' : model.health !== undefined;
    const stamps = model.clearanceStamps;
    const latency = stamps === undefined ? Number.NaN : stamps.sentS - stamps.timeS;
    const since = clockTime(session.since);
    const told = replay !== undefined ? 'not known yet' : session.wasHeard ? `last told ${since}` : 'nothing yet';
    this.#senses.tell(model.health, latency, isKnown, time, told);
    const findings = isKnown ? (model.health?.findings ?? []) : [];
    const none = replay === undefined ? `none since ${since}` : 'none then';
    const unknown = replay === undefined ? 'unknown while unconnected' : 'not known';
    showFindings(findings, isKnown ? none : unknown, isKnown);
    this.#writeMovers(scene);
  }

  #writeMovers({ model, isPast }: Scene): void {
    const movers = isPast ? [] : (model.movers?.movers ?? []).filter(({ confidence }) => confidence >= SURE);
    say('movers-word', movers.length === 0 ? 'none' : String(movers.length));
    const unit = lengthUnit();
    const rows = movers.map(({ id, vxMps, vyMps, closestM, closestInS }) => {
      const speed = `mover ${id} · ${roundLength(Math.hypot(vxMps, vyMps))} ${unit}/s`;
      const isClosing = closestInS > 0.1 && closestInS < 5;
      return isClosing ? `${speed} · closest ${roundLength(closestM)} in ${closestInS.toFixed(1)} s` : speed;
    });
    const box = part('movers', HTMLElement);
    const key = rows.join('|');
    if (box.dataset.key === key) return;
    box.dataset.key = key;
    box.replaceChildren(
      ...rows.map((row) => {
        const item = document.createElement('li');
        item.textContent = row;
        return item;
      }),
    );
  }

  /** Draws the graphs. @param clock s, of the page. */
  draw({ model, replay, isPast, time }: Scene, clock: number): void {
    drawSweep(isPast ? undefined : model.sweep);
    const pin = this.#marks.pins.findLast(({ spot }) => spot.hold === 'wall');
    const wall = pin === undefined ? undefined : wallAt(model, pin.spot);
    drawNoise(pin && this.#residuals, pin?.number ?? 0, wall?.distanceM ?? 2, this.#noise);
    const { history } = this.#session;
    const curve = replay === undefined ? history.since.bind(history, time - CURVE_SPAN) : replay.curve.bind(replay);
    this.#ahead.draw(curve, time, clock);
    const at = replay === undefined ? 0 : replay.at - replay.from;
    say('ahead-from', replay === undefined ? '3 min ago' : stretch(at - CURVE_SPAN));
    say('ahead-to', replay === undefined ? 'now' : stretch(at));
  }

  /** Draws the time strip. */
  drawStrip({ model, replay }: Scene): void {
    const stop = model.hello?.stopM ?? 0;
    const { history, time } = this.#session;
    const from = replay?.from ?? time - STRIP_SPAN;
    const to = replay?.to ?? time;
    const curve = replay === undefined ? history.since.bind(history, from) : replay.curve.bind(replay);
    let most = 2;
    curve((_time, ahead) => {
      if (ahead > most) most = ahead;
    });
    const scale = { from, to, most: 1.15 * most, stop, curve };
    if (replay === undefined) {
      const tick = (at: number): string => clockTime(at).slice(0, 5);
      drawStrip({
        ...{ ...scale, happenings: history.happenings, hand: Number.NaN, last: 'now' },
        ...{ zero: 0, finest: 60, tick },
      });
    } else {
      const tick = (at: number): string => stretch(at - from);
      drawStrip({
        ...{ ...scale, happenings: replay.happenings, hand: replay.at, last: tick(to) },
        ...{ zero: from, finest: 1, tick },
      });
    }
  }
}
