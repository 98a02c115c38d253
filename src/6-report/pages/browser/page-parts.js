/** @template {Element} E @param {ParentNode} within @param {string} selector @param {new () => E} kind @returns {E} */
export const find = (within, selector, kind) => {
  const found = within.querySelector(selector);
  if (!(found instanceof kind)) throw new Error(`The page lacks ${selector}.`);
  return found;
};

/** @template {Element} E @param {ParentNode} within @param {string} selector @param {new () => E} kind @returns {E[]} */
export const all = (within, selector, kind) =>
  [...within.querySelectorAll(selector)].filter(/** @returns {each is E} */ (each) => each instanceof kind);

/** @param {number} value @param {number} min @param {number} max */
export const clamp = (value, min, max) => Math.max(min, Math.min(max, value));

/** A key with Ctrl, Alt or Meta is for the browser. @param {KeyboardEvent} event */
export const isPlainKey = ({ ctrlKey, altKey, metaKey }) => !ctrlKey && !altKey && !metaKey;

/** Where an event lies on an element, in shares of its width and height. @param {Element} element @param {MouseEvent} event */
export const placeOn = (element, { clientX, clientY }) => {
  const { left, top, width, height } = element.getBoundingClientRect();
  return { x: (clientX - left) / width, y: (clientY - top) / height };
};
