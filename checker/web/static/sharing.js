// A list in a link: compressed, in the part of an address that a browser sends to nobody.

const FORM = "#list=1.";
const MOST = 256 * 1024;

async function through(bytes, stream, most = Infinity) {
  const reader = new Blob([bytes]).stream().pipeThrough(stream).getReader();
  const parts = [];
  let size = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    size += value.length;
    if (size > most) {
      await reader.cancel();
      throw new Error("This link holds more than a list.");
    }
    parts.push(value);
  }
  return new Uint8Array(await new Blob(parts).arrayBuffer());
}

/** The address of this page with the list in it. */
export async function linkTo(text) {
  const packed = await through(new TextEncoder().encode(text), new CompressionStream("deflate-raw"));
  const letters = Array.from(packed, (byte) => String.fromCharCode(byte)).join("");
  const word = btoa(letters).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
  return `${location.origin}${location.pathname}${FORM}${word}`;
}

/** Whether an address carries a list. */
export const isLink = (hash) => hash.startsWith(FORM);

/** The list in the address, or null where there is none. Throws where it is broken. */
export async function fromLink(hash) {
  if (!isLink(hash)) return null;
  const letters = atob(hash.slice(FORM.length).replaceAll("-", "+").replaceAll("_", "/"));
  const packed = Uint8Array.from(letters, (letter) => letter.charCodeAt(0));
  return new TextDecoder().decode(await through(packed, new DecompressionStream("deflate-raw"), MOST));
}
