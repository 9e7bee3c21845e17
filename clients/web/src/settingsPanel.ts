import type { Controls } from './controls.js';
import type { Desk } from './desk.js';
import { made, part } from './dom.js';
import { degrees, fromUnit, inUnit, lengthUnit, roundLength } from './units.js';

/** What the settings ask of the page. */
export interface PanelActs {
  readonly close: () => void;
  readonly changed: () => void;
  readonly clear: (reach: number) => void;
  readonly drawMask: () => void;
  readonly isCartUp: () => boolean;
}

/** Settings: how this person likes the page, and what acts live on the rover. */
export class SettingsPanel {
  readonly #box = part('settings', HTMLDialogElement);
  readonly #desk: Desk;
  readonly #controls: Controls;
  readonly #acts: PanelActs;

  constructor(desk: Desk, controls: Controls, acts: PanelActs) {
    this.#desk = desk;
    this.#controls = controls;
    this.#acts = acts;
  }

  get isOpen(): boolean {
    return this.#box.open;
  }

  open(isOpen: boolean, role: string, before: string): void {
    if (isOpen) {
      this.fill(role, before);
      this.#box.show();
    } else this.#box.close();
  }

  /** Keeps up what the senses say while settings change. */
  tell(before: string): void {
    const line = document.getElementById('settings-now');
    if (this.#box.open && line !== null) line.textContent = `Now: ${before}.`;
  }

  /** Writes the panel anew. @param role of this page. @param before what the senses say now of unknown bearings. */
  fill(role: string, before: string): void {
    const focus = document.activeElement?.id ?? '';
    const title = made('h2', 'Settings');
    title.id = 'settings-name';
    const close = act('Close', () => this.#acts.close());
    this.#box.replaceChildren(
      made('div.panel-head', title, close),
      this.#page(),
      ...(this.#controls.settings === undefined
        ? [made('div.panel-part', made('p.quiet', 'This daemon has no settings that act live.'))]
        : this.#live(role, before)),
    );
    if (focus !== '') document.getElementById(focus)?.focus();
  }

  #page(): HTMLElement {
    const desk = this.#desk;
    const part = made('div.panel-part', made('h3', 'This page'));
    const units = (name: 'metric' | 'imperial', text: string): HTMLElement =>
      choice('radio', 'units', `units-${name}`, text, desk.units === name, () => {
        desk.units = name;
        this.#acts.changed();
      });
    part.append(
      units('metric', 'Metres'),
      units('imperial', 'Feet and inches'),
      choice('checkbox', 'keys', 'keys-single', 'Single keys act (V, T, P …)', desk.keys, (isOn) => {
        desk.keys = isOn;
        this.#acts.changed();
      }),
    );
    for (const [layer, text] of [
      ['echoes', 'Draw echoes'],
      ['figures', 'Draw figures'],
      ['path', 'Draw the path driven'],
    ] as const)
      part.append(
        choice('checkbox', layer, `layer-${layer}`, text, desk[layer], (isOn) => {
          desk[layer] = isOn;
          this.#acts.changed();
        }),
      );
    part.append(
      choice('checkbox', 'up', 'cart-up', 'Cart up: ahead is up', this.#acts.isCartUp(), (isOn) => {
        desk.up = isOn ? 'cart' : 'plan';
        this.#acts.changed();
      }),
    );
    return part;
  }

  #live(role: string, before: string): HTMLElement[] {
    const { settings } = this.#controls;
    if (settings === undefined) return [];
    const isBarred = role !== 'admin';
    const lasts =
      settings.file === null
        ? 'No configuration file: what you change lasts until the daemon stops.'
        : `Kept in ${settings.file}.`;
    const returns = made('div.panel-part', made('h3', 'A beam that comes back empty'));
    const field = document.createElement('input');
    field.id = 'no-return-m';
    field.type = 'number';
    field.min = '0.1';
    field.step = '0.1';
    field.value = inUnit(settings.noReturnM).toFixed(2).replace(/0$/, '');
    field.disabled = isBarred;
    const reach = made('label.field', 'as far as', field, lengthUnit());
    const apply = (): void => {
      const metres = fromUnit(Number(field.value));
      if (settings.noReturn === 'clear') this.#controls.change({ noReturnM: metres });
    };
    field.addEventListener('change', apply);
    returns.append(
      choice(
        'radio',
        'no-return',
        'no-return-unknown',
        'is unknown: no leeway there',
        settings.noReturn === 'unknown',
        () => {
          this.#controls.change({ noReturn: 'unknown' });
        },
        isBarred,
      ),
      choice(
        'radio',
        'no-return',
        'no-return-clear',
        'vouches for free floor',
        settings.noReturn === 'clear',
        () => {
          this.#acts.clear(fromUnit(Number(field.value)));
        },
        isBarred,
      ),
      reach,
      now(before),
      ...(isBarred ? [made('p.needs', 'needs role admin')] : []),
    );
    const masks = made('div.panel-part', made('h3', 'Masks: the rover’s own body'));
    const items = settings.masks.map((mask, i) => {
      const item = made(
        'li',
        `${degrees(mask.fromRad)} to ${degrees(mask.toRad)}, up to ${roundLength(mask.upToM)} ${lengthUnit()}`,
      );
      const remove = act(
        'Remove',
        () => this.#controls.change({ masks: settings.masks.filter((_, k) => k !== i) }),
        isBarred,
      );
      remove.setAttribute('aria-label', `Remove mask ${i + 1}`);
      item.append(remove);
      return item;
    });
    masks.append(
      items.length > 0 ? made('ol.masks', ...items) : made('p.quiet', 'None.'),
      made(
        'p.acts',
        act('Draw a mask', () => this.#acts.drawMask(), isBarred),
      ),
    );
    const undo = made(
      'div.panel-part',
      made(
        'p.acts',
        act('Undo', () => this.#controls.undo(), !this.#controls.canUndo),
        act('Redo', () => this.#controls.redo(), !this.#controls.canRedo),
      ),
      made('p.needs', lasts),
    );
    if (this.#controls.fault !== '') undo.prepend(made('p', made('b', 'Not changed. '), this.#controls.fault));
    return [returns, masks, undo];
  }
}

/** What the senses say at this moment, kept up by {@link SettingsPanel.tell}. */
function now(before: string): HTMLElement {
  const line = made('p.needs', `Now: ${before}.`);
  line.id = 'settings-now';
  return line;
}

function act(text: string, run: () => void, isBarred = false): HTMLButtonElement {
  const button = document.createElement('button');
  button.type = 'button';
  button.className = 'btn';
  button.id = `settings-${text.toLowerCase().replaceAll(' ', '-')}`;
  button.textContent = text;
  button.disabled = isBarred;
  button.addEventListener('click', run);
  return button;
}

function choice(
  type: 'radio' | 'checkbox',
  name: string,
  id: string,
  text: string,
  isOn: boolean,
  run: (isOn: boolean) => void,
  isBarred = false,
): HTMLElement {
  const input = document.createElement('input');
  input.type = type;
  input.name = name;
  input.id = id;
  input.checked = isOn;
  input.disabled = isBarred;
  input.addEventListener('change', () => run(input.checked));
  return made('label', input, text);
}
