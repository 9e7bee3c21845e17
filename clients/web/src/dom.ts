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

/** @returns a new element holding `content`. */
export function made(name: string, ...content: readonly (Node | string)[]): HTMLElement {
  const element = document.createElement(name);
  element.append(...content);
  return element;
}
