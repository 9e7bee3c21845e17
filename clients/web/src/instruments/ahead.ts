import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';
import { part, rem, say, token } from '../dom.js';
import { cutLength, fullLength, inUnit, lengthUnit } from '../units.js';

const SPAN = 180; // s
const EVERY = 1; // s between two drawings of the curve

/** Leeway ahead: the figure that is read at arm's length, and its last three minutes. */
export class Ahead {
  #plot: uPlot | undefined;
  #drawnAt = -Infinity;
  #stop = 0;

  /** @param word beside the name. */
  tell(ahead: number, stop: number, isVouched: boolean, word: string): void {
    const isShort = ahead < stop;
    say('ahead', isVouched ? cutLength(ahead) : '0.00');
    say('ahead-unit', lengthUnit());
    say('ahead-word', word);
    say('ahead-stop', stop > 0 ? `– – stop distance ${fullLength(stop)}` : '');
    part('gauge', HTMLElement).dataset.room = !isVouched || !(ahead > 0) ? 'none' : isShort ? 'short' : 'free';
    this.#stop = stop;
  }

  /** Colours or sizes have changed. */
  refresh(): void {
    this.#plot?.destroy();
    this.#plot = undefined;
    this.#drawnAt = -Infinity;
  }

  /** @param curve calls back with each sample. @param now s, where the curve ends. @param clock s, of the page. */
  draw(curve: (take: (time: number, ahead: number) => void) => void, now: number, clock: number): void {
    if (clock - this.#drawnAt < EVERY) return;
    this.#drawnAt = clock;
    const times: number[] = [];
    const lengths: (number | null)[] = [];
    curve((time, ahead) => {
      if (time < now - SPAN || time > now) return;
      times.push(time);
      lengths.push(Number.isNaN(ahead) ? null : inUnit(ahead));
    });
    this.#plot ??= this.#make();
    this.#plot?.setData([times, lengths], false);
    const most = lengths.reduce<number>((highest, length) => Math.max(highest, length ?? 0), inUnit(2));
    this.#plot?.batch(() => {
      this.#plot?.setScale('x', { min: now - SPAN, max: now });
      this.#plot?.setScale('y', { min: 0, max: 1.15 * most });
    });
  }

  #make(): uPlot | undefined {
    const box = part('ahead-chart', HTMLElement);
    const { clientWidth: width, clientHeight: height } = box;
    if (width === 0) return undefined;
    const colour = token('--leeway-edge');
    const ink = token('--ink');
    const pen = rem();
    return new uPlot(
      {
        ...{ width, height, padding: [0, 0, 0, 0], legend: { show: false } },
        cursor: { show: false },
        scales: { x: { time: false, auto: false }, y: { auto: false } },
        axes: [{ show: false }, { show: false }],
        series: [{}, { stroke: colour, width: 1.75 * pen, spanGaps: false, points: { show: false } }],
        hooks: {
          drawAxes: [
            (plot) => {
              const y = Math.round(plot.valToPos(inUnit(this.#stop), 'y', true)) + 0.5;
              const { ctx, bbox } = plot;
              ctx.save();
              ctx.strokeStyle = ink;
              ctx.lineWidth = devicePixelRatio;
              ctx.setLineDash([5 * devicePixelRatio, 3 * devicePixelRatio]);
              ctx.beginPath();
              ctx.moveTo(bbox.left, y);
              ctx.lineTo(bbox.left + bbox.width, y);
              ctx.stroke();
              ctx.restore();
            },
          ],
        },
      },
      [[], []],
      box,
    );
  }
}
