import type { Desk } from './desk.js';
import { toWorld, wrapAngle } from './geometry.js';
import type { Marks } from './measure/marks.js';
import { type Spot, snap } from './measure/snap.js';
import type { Model } from './model.js';
import type { Mask } from './sheet/ground.js';
import type { Plan } from './sheet/plan.js';

const REACH = { mouse: 10, touch: 22 } as const; // px within which a thing draws a point to itself
const PAN = 60; // px an arrow key
const CLICK = 5; // px: less is a press, not a pull

/** What a person's hands do on the sheet: with mouse, fingers or keys. */
export class Handwork {
  cross: Spot | undefined;
  draft: Mask | undefined;
  readonly #plan: Plan;
  readonly #desk: Desk;
  readonly #marks: Marks;
  readonly #model: () => Model;
  readonly #pointers = new Map<number, { x: number; y: number }>();
  #pulled = 0;
  #corner: Spot | undefined;
  #tab = 0;
  /** World, m: where the pointer is; NaN: not on the sheet. */
  readonly over = { x: Number.NaN, y: Number.NaN };
  /** Whether a person chose the view. */
  hasMoved = false;
  /** Something changed on the sheet. */
  onChange = (): void => {};
  /** A mask was drawn and waits for a word. */
  onMask = (_mask: Mask): void => {};
  onPinned = (): void => {};

  constructor(box: HTMLElement, plan: Plan, desk: Desk, marks: Marks, model: () => Model) {
    this.#plan = plan;
    this.#desk = desk;
    this.#marks = marks;
    this.#model = model;
    box.addEventListener('pointerdown', (event) => this.#down(event, box));
    box.addEventListener('pointermove', (event) => this.#move(event, box));
    for (const name of ['pointerup', 'pointercancel'] as const)
      box.addEventListener(name, (event) => this.#up(event, box, name === 'pointercancel'));
    box.addEventListener('pointerleave', () => {
      this.over.x = this.over.y = Number.NaN;
      if (this.#pointers.size === 0 && this.#desk.tool !== 'move') this.#setCross(undefined);
    });
    box.addEventListener('wheel', (event) => this.#wheel(event, box), { passive: false });
    box.addEventListener('keydown', (event) => {
      if (event.target === box && this.#key(event)) event.preventDefault();
    });
  }

  get isHolding(): boolean {
    return this.#pointers.size > 0;
  }

  /** Another tool was taken, or what was begun is dropped. @returns whether something was dropped. */
  drop(): boolean {
    const was =
      this.draft !== undefined ||
      this.#corner !== undefined ||
      (this.#marks.tape !== undefined && this.#marks.tape.b === undefined);
    if (this.#marks.tape?.b === undefined) this.#marks.tape = undefined;
    this.draft = undefined;
    this.#corner = undefined;
    this.cross = undefined;
    this.onChange();
    return was;
  }

  #at(event: MouseEvent, box: HTMLElement): { x: number; y: number } {
    const { left, top } = box.getBoundingClientRect();
    return { x: event.clientX - left - box.clientLeft, y: event.clientY - top - box.clientTop };
  }

  #isOnSheet(event: Event, box: HTMLElement): boolean {
    return event.target instanceof Node && box.contains(event.target);
  }

  #down(event: PointerEvent, box: HTMLElement): void {
    if (!this.#isOnSheet(event, box) || event.button > 0) return;
    box.setPointerCapture(event.pointerId);
    const at = this.#at(event, box);
    this.#pointers.set(event.pointerId, at);
    this.#pulled = 0;
    if (this.#desk.tool === 'move') box.classList.add('held');
    const isSpan = this.#desk.tool === 'mask' || this.#desk.tool === 'tape';
    if (isSpan && this.#pointers.size === 1) this.#corner = this.#spotAt(at, event.pointerType);
  }

  #move(event: PointerEvent, box: HTMLElement): void {
    const at = this.#at(event, box);
    const before = this.#pointers.get(event.pointerId);
    const { tool } = this.#desk;
    this.#plan.view.toWorld(at.x, at.y);
    this.over.x = this.#plan.view.wx;
    this.over.y = this.#plan.view.wy;
    if (before === undefined) {
      if (tool !== 'move' && this.#isOnSheet(event, box)) this.#setCross(this.#spotAt(at, event.pointerType));
      return;
    }
    this.#pulled += Math.hypot(at.x - before.x, at.y - before.y);
    this.#pointers.set(event.pointerId, at);
    if (this.#pointers.size === 2) this.#pinch(event.pointerId, before, at);
    else if (tool === 'move') {
      this.hasMoved = true;
      this.#plan.view.pan(at.x - before.x, at.y - before.y, this.#model().pose);
    } else {
      this.#setCross(this.#spotAt(at, event.pointerType));
      if (tool === 'mask' && this.#corner !== undefined && this.#pulled > CLICK) this.draft = this.#maskTo(this.cross);
    }
    this.onChange();
  }

  #pinch(id: number, before: { x: number; y: number }, at: { x: number; y: number }): void {
    for (const [other, rest] of this.#pointers) {
      if (other === id) continue;
      const was = Math.hypot(before.x - rest.x, before.y - rest.y);
      const is = Math.hypot(at.x - rest.x, at.y - rest.y);
      if (was < 10 || is < 10) return;
      const steps = Math.log(is / was) / Math.log(1.25);
      const { view, rem } = this.#plan;
      view.zoom(steps, (at.x + rest.x) / 2, (at.y + rest.y) / 2, this.#model().pose, rem);
      view.pan((at.x - before.x) / 2, (at.y - before.y) / 2, this.#model().pose);
      this.#plan.labels.hurry();
    }
  }

  #up(event: PointerEvent, box: HTMLElement, isCancelled: boolean): void {
    const at = this.#pointers.get(event.pointerId);
    this.#pointers.delete(event.pointerId);
    box.classList.remove('held');
    if (at === undefined || isCancelled) return;
    const { tool } = this.#desk;
    if (tool === 'mask') {
      if (this.draft !== undefined && this.#pulled > CLICK) {
        this.#corner = undefined;
        this.onMask(this.draft);
      }
    } else if (tool === 'move' || tool === 'pin') {
      if (this.#pulled <= CLICK) this.#set(this.#spotAt(at, event.pointerType));
      this.#plan.labels.hurry();
    } else {
      if (this.#pulled > 3 * CLICK && this.#corner !== undefined) this.#set(this.#corner);
      this.#corner = undefined;
      this.#set(this.#spotAt(at, event.pointerType));
    }
    this.onChange();
  }

  #wheel(event: WheelEvent, box: HTMLElement): void {
    if (!this.#isOnSheet(event, box)) return;
    event.preventDefault();
    const at = this.#at(event, box);
    this.hasMoved = true;
    const steps = -Math.sign(event.deltaY) * Math.min(1, Math.abs(event.deltaY) / 100);
    this.#plan.view.zoom(steps, at.x, at.y, this.#model().pose, this.#plan.rem);
    this.#plan.labels.hurry();
    this.onChange();
  }

  #spotAt(at: { x: number; y: number }, pointer: string): Spot {
    const { view, rem } = this.#plan;
    view.update(this.#model().pose, 0);
    const spot = snap(this.#model(), view, at.x, at.y, (pointer === 'touch' ? REACH.touch : REACH.mouse) * rem);
    return this.#desk.tool === 'mask' ? { ...spot, hold: 'open' } : spot;
  }

  #setCross(spot: Spot | undefined): void {
    this.cross = spot;
    this.onChange();
  }

  #set(spot: Spot): void {
    const { tool } = this.#desk;
    if (tool === 'tape') this.#marks.setEnd(spot);
    else if (tool === 'pin') this.#marks.pin(spot);
    this.onPinned();
  }

  /** The stretch of bearings about the sensor between the mask's first corner and a spot, as far as the farther of both. */
  #maskTo(spot: Spot | undefined): Mask | undefined {
    if (this.#corner === undefined || spot === undefined) return undefined;
    const a = this.#aboutSensor(this.#corner);
    const b = this.#aboutSensor(spot);
    const turn = wrapAngle(b.bearing - a.bearing);
    const [fromRad, toRad] = turn >= 0 ? [a.bearing, b.bearing] : [b.bearing, a.bearing];
    return { fromRad, toRad, upToM: Math.max(0.02, a.range, b.range) };
  }

  #aboutSensor(spot: Spot): { bearing: number; range: number } {
    const { pose, mounting } = this.#model();
    const c = Math.cos(pose.heading);
    const s = Math.sin(pose.heading);
    const dx = spot.x - pose.x;
    const dy = spot.y - pose.y;
    const x = dx * c + dy * s - mounting.xM;
    const y = -dx * s + dy * c - mounting.yM;
    return { bearing: Math.atan2(y, x), range: Math.hypot(x, y) };
  }

  /** @returns whether the key meant something here. */
  #key(event: KeyboardEvent): boolean {
    if (event.ctrlKey || event.metaKey || event.altKey) return false;
    const arrow = ARROWS[event.key];
    if (this.#desk.tool === 'move') {
      if (arrow === undefined) return false;
      this.hasMoved = true;
      const step = event.shiftKey ? this.#plan.view.pxPerM : PAN;
      this.#plan.view.pan(-arrow[0] * step, -arrow[1] * step, this.#model().pose);
      this.#plan.labels.hurry();
      this.onChange();
      return true;
    }
    if (arrow !== undefined) this.#nudge(arrow, event.shiftKey ? 0.1 : 0.01);
    else if (event.key === 'Tab') return this.#jump(event.shiftKey ? -1 : 1);
    else if (event.key === 'Enter') this.#enter();
    else if (event.key === 'Backspace') this.#back();
    else return false;
    return true;
  }

  #nudge([dx, dy]: readonly [number, number], metres: number): void {
    const { view } = this.#plan;
    const from = this.cross ?? this.#middle();
    view.toScreen(from.x, from.y);
    const { sx, sy } = view;
    view.toWorld(sx + dx * metres * view.pxPerM, sy + dy * metres * view.pxPerM);
    this.#setCross({ hold: 'open', x: view.wx, y: view.wy, normal: 0, distance: 0 });
  }

  #middle(): Spot {
    const { view } = this.#plan;
    view.toWorld(view.middleX, view.middleY);
    return { hold: 'open', x: view.wx, y: view.wy, normal: 0, distance: 0 };
  }

  /** Goes to the next corner or wall's middle on the sheet, round the rover. @returns whether there was one. */
  #jump(step: number): boolean {
    const spots = this.#spots();
    if (spots.length === 0) return false;
    this.#tab += step;
    if (this.#tab < 1 || this.#tab > spots.length) {
      this.#tab = 0; // past the last one Tab goes on through the page
      this.#setCross(undefined);
      return false;
    }
    this.#setCross(spots[this.#tab - 1]);
    return true;
  }

  #spots(): readonly Spot[] {
    const model = this.#model();
    const { view } = this.#plan;
    const at = { x: 0, y: 0 };
    const spots: Spot[] = [];
    const add = (x: number, y: number): void => {
      toWorld(model.pose, x, y, at);
      view.toScreen(at.x, at.y);
      if (view.isInside(view.sx, view.sy)) spots.push(snap(model, view, view.sx, view.sy, REACH.mouse));
    };
    for (const { xM, yM } of model.shapes?.corners ?? []) add(xM, yM);
    for (const { x1M, y1M, x2M, y2M } of model.shapes?.walls ?? []) add((x1M + x2M) / 2, (y1M + y2M) / 2);
    for (const { xM, yM } of model.shapes?.posts ?? []) add(xM, yM);
    return spots;
  }

  #enter(): void {
    const spot = this.cross ?? this.#middle();
    if (this.#desk.tool !== 'mask') this.#set({ ...spot });
    else if (this.#corner === undefined) this.#corner = spot;
    else {
      this.draft = this.#maskTo(spot);
      this.#corner = undefined;
      if (this.draft !== undefined) this.onMask(this.draft);
    }
    this.onChange();
  }

  #back(): void {
    if (this.#desk.tool === 'tape') this.#marks.takeBack();
    else if (this.#desk.tool === 'pin') this.#marks.pins.pop();
    else this.drop();
    this.onChange();
  }
}

const ARROWS: Readonly<Record<string, readonly [number, number]>> = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, -1],
  ArrowDown: [0, 1],
};
