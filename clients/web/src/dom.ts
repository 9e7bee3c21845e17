/** @returns the page's part of that id. @throws {TypeError} there is none of that kind: index.html and the program do not fit. */
export function part<T extends Element>(id: string, kind: new () => T): T {
  const found = document.getElementById(id);
  if (!(found instanceof kind)) throw new TypeError(`no ${kind.name} #${id}`);
  return found;
}

/** Sets an element's text where it is another: what stays is not read out again. */
export function say(id: string, text: string): void {
  const element = part(id, HTMLElement);
  if (element.textContent !== text) element.textContent = text;
}

/** Shows or hides. */
export function show(id: string, isShown: boolean): void {
  const element = part(id, HTMLElement);
  if (element.hidden === isShown) element.hidden = !isShown;
}

/** @returns a new element holding `content`, with a class where one is named after a dot: `p.quiet`. */
export function made(name: string, ...content: readonly (Node | string)[]): HTMLElement {
  const [tag, ...classes] = name.split('.');
  const element = document.createElement(tag);
  if (classes.length > 0) element.className = classes.join(' ');
  element.append(...content);
  return element;
}

/** Fills a list with one item a text, where it holds others. */
export function list(id: string, texts: readonly string[]): void {
  const box = part(id, HTMLElement);
  for (const [i, text] of texts.entries()) {
    const item = box.children[i] ?? box.appendChild(made('li'));
    if (item.textContent !== text) item.textContent = text;
  }
  while (box.children.length > texts.length) box.lastElementChild?.remove();
}

/** A canvas that is drawn in px, sharp on its screen. @returns undefined while it has no size. */
export function canvasOf(id: string): { pen: CanvasRenderingContext2D; width: number; height: number } | undefined {
  const canvas = part(id, HTMLCanvasElement);
  const { clientWidth: width, clientHeight: height } = canvas;
  const pen = canvas.getContext('2d');
  if (pen === null || width === 0 || height === 0) return undefined;
  const scale = devicePixelRatio;
  if (canvas.width !== Math.round(width * scale)) canvas.width = Math.round(width * scale);
  if (canvas.height !== Math.round(height * scale)) canvas.height = Math.round(height * scale);
  pen.setTransform(scale, 0, 0, scale, 0, 0);
  pen.clearRect(0, 0, width, height);
  return { pen, width, height };
}

/** @returns a colour or value of the style sheet as it is now. */
export function token(name: string): string {
  return getComputedStyle(document.documentElement).getPropertyValue(name).trim();
}

/** @returns px of the root letter, over 16. */
export function rem(): number {
  return Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
}
