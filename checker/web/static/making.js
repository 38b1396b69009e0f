// Small makers of elements. Text is always text: nothing here, or anywhere on the page, reads a string as markup but
// `drawn`, which takes SVG and XHTML that the server wrote and leaves out whatever could run.

/** An element with properties (class, id, attributes, on… listeners) and children (elements, texts, nothing). */
export function make(name, properties = {}, ...children) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(properties)) {
    if (value === null || value === undefined || value === false) continue;
    if (key.startsWith("on")) element.addEventListener(key.slice(2), value);
    else element.setAttribute(key, value === true ? "" : value);
  }
  element.append(...children.flat(3).filter((child) => child !== null && child !== undefined && child !== false));
  return element;
}

/** The element with that id. */
export function byId(id) {
  return document.getElementById(id);
}

const RUNS = "script, iframe, object, embed, link, meta, base, form, style, foreignObject, animate, set";

/** An element from SVG or XHTML of the server; null where it is none. */
export function drawn(markup, kind) {
  if (!markup) return null;
  const parsed = new DOMParser().parseFromString(markup, kind);
  const root = parsed.documentElement;
  if (parsed.querySelector("parsererror")) return null;
  if (kind === "application/xhtml+xml" && root.namespaceURI !== "http://www.w3.org/1999/xhtml") return asHtml(root);
  return safe(document.importNode(root, true));
}

// A piece without a namespace is taken over element by element.
function asHtml(node) {
  const made = document.createElement(node.localName);
  for (const { name, value } of node.attributes) made.setAttribute(name, value);
  for (const child of node.childNodes) made.append(child.nodeType === Node.ELEMENT_NODE ? asHtml(child) : child.data ?? "");
  return safe(made);
}

function safe(root) {
  for (const bad of root.querySelectorAll(RUNS)) bad.remove();
  for (const each of [root, ...root.querySelectorAll("*")]) {
    for (const { name, value } of [...each.attributes]) {
      if (/^on/i.test(name) || /^\s*javascript:/i.test(value) || name === "style") each.removeAttribute(name);
    }
  }
  return root;
}

/** Hand the reader a file that was made here. */
export function save(name, content, type) {
  const address = URL.createObjectURL(content instanceof Blob ? content : new Blob([content], { type }));
  const link = make("a", { href: address, download: name });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 10000);
}
