// The language of lists for the editor: what is coloured how, and which words are offered. It reads no list: only the
// checker says what a line means.

import { HighlightStyle, StreamLanguage, syntaxHighlighting, tags } from "./codemirror.js";
import { lookUp } from "./asking.js";

const STATEMENTS = ["title", "by", "board", "supply", "battery", "part", "wire", "power", "pin", "keep", "expect"];
const NAMING = ["supply", "battery", "part"];
const COLOURS = "black brown red orange yellow green blue violet grey gray white gold silver purple pink".split(" ");
const JOINING = new Set(`in on at to from and across faces facing toward as apart when if with carries draws drops dissipates is
  between under over about limit plus minus measured turned bands code stall by via`.split(/\s+/));
const MARKS = new Set("band long short flat stripe anode cathode dot notch tab front row leg side".split(" "));
const STATES = new Set(`lit dark on off runs stopped high low pressed released output pwm input pullup analog bus unused usb vin
  half full mini split joined rails top bottom left right`.split(/\s+/));

const HOLE = /^(?:[a-z][\w-]*:)?(?:[a-j]-?\d{1,3}|\d{1,3}-?[a-j])(?![\w.])/i;
const RAIL = /^(?:[a-z][\w-]*:)?[lr][+-]\d{0,3}(?!\w)/i;
const PIN = /^[a-z][\w-]*\.(?:[\w~!/]+[+-]?|[+-])/i;
const NODE = /^@\w+/;
const AMOUNT = /^[±+]?(?:\d+\s?\/\s?)?\d+(?:[.,]\d+)?(?:[a-zµΩ°%][a-zµΩ°%/]*\d*)?(?![\w])/i;
const NAME = /^[^\s,()"=:#]+/;
const WORD = /^[a-z][\w./~!+-]*/i;

function word(text, state) {
  const lower = text.toLowerCase();
  if (state.first) {
    state.first = false;
    state.names = NAMING.includes(lower);
    if (STATEMENTS.includes(lower) || lower === "connect") return "statement";
  }
  if (COLOURS.includes(lower)) return "colour";
  if (lower === "wire" || lower === "supply") return "statement";
  if (MARKS.has(lower)) return "mark";
  if (JOINING.has(lower)) return "joining";
  return STATES.has(lower) ? "state" : "plain";
}

function token(stream, state) {
  if (stream.sol()) Object.assign(state, { first: true, names: false });
  if (stream.eatSpace()) return null;
  if (stream.peek() === "#") {
    stream.skipToEnd();
    return "comment";
  }
  if (stream.match(/^"[^"]*"?/)) return "said";
  // What stands after "part" is a name, also where it reads like a hole.
  if (state.names && stream.match(NAME)) {
    state.names = false;
    return "plain";
  }
  for (const [pattern, name] of [[PIN, "pin"], [NODE, "pin"], [RAIL, "place"], [HOLE, "place"], [AMOUNT, "amount"]]) {
    if (stream.match(pattern)) {
      state.first = false;
      return name;
    }
  }
  const found = stream.match(WORD);
  if (found) return word(found[0], state);
  stream.next();
  return null;
}

const COLOURED = {
  statement: tags.keyword, joining: tags.operatorKeyword, mark: tags.attributeName, state: tags.atom, place: tags.variableName,
  pin: tags.propertyName, amount: tags.number, colour: tags.color, said: tags.string, comment: tags.comment, plain: tags.name,
};

const STYLE = HighlightStyle.define([
  { tag: tags.keyword, class: "tok-statement" },
  { tag: tags.operatorKeyword, class: "tok-joining" },
  { tag: tags.attributeName, class: "tok-mark" },
  { tag: tags.atom, class: "tok-state" },
  { tag: tags.variableName, class: "tok-place" },
  { tag: tags.propertyName, class: "tok-pin" },
  { tag: tags.number, class: "tok-amount" },
  { tag: tags.string, class: "tok-said" },
  { tag: tags.comment, class: "tok-comment" },
]);

/** The extension of the editor. */
export const language = [
  StreamLanguage.define({
    name: "legs", startState: () => ({ first: true, names: false }), token, tokenTable: COLOURED, languageData: { commentTokens: { line: "#" } },
  }),
  syntaxHighlighting(STYLE),
];

// ── what is offered ─────────────────────────────────────────────────────────────────────────────────────────────────

const AFTER = {
  part: ["in", "across", "flat faces", "tab faces", "band", "long", "stripe", "notch row", "dot", "as", "turned", "bands"],
  supply: ["on", "limit"],
  battery: ["on"],
  wire: ["to", ...COLOURS.slice(0, 10)],
  pin: ["output", "pwm", "input", "input pullup", "analog", "unused"],
  power: ["usb", "vin", "5v", "off"],
  board: ["half", "full", "mini", "rails split"],
  keep: ["apart from"],
  expect: ["lit", "dark", "runs", "stopped", "on", "off", "high", "low", "carries", "at", "when"],
};

const options = (labels, type) => [...new Set(labels)].map((label) => ({ label, type }));

/** Names, pins and holes that the list has, with the pins that the library knows. */
function ofTheList(text, parts) {
  const holes = text.match(/\b[a-j]\d{1,2}\b|\b[LR][+-]/gi) ?? [];
  const pins = parts.flatMap((part) => part.pins.map((pin) => `${part.name}.${pin}`));
  return [...options(parts.map((part) => part.name), "variable"), ...options(pins, "property"), ...options(holes, "constant")];
}

async function kinds(typed) {
  const listing = await lookUp(`/parts?words=${encodeURIComponent(typed)}`).catch(() => null);
  return (listing?.parts ?? []).map((part) => ({ label: part.name, detail: part.says, type: "class" }));
}

/** The source of completions; `parts()` gives the parts of the list as last checked. */
export function offers(parts) {
  return async (context) => {
    const line = context.state.doc.lineAt(context.pos);
    const before = line.text.slice(0, context.pos - line.from);
    if (before.includes("#") || (before.split('"').length - 1) % 2) return null;
    const typed = before.match(/[^\s,()]*$/)[0];
    if (!typed && !context.explicit) return null;
    const words = before.slice(0, before.length - typed.length).trim().toLowerCase().split(/\s+/).filter(Boolean);
    const from = context.pos - typed.length;
    if (words.length === 0) return { from, options: options(STATEMENTS, "keyword"), validFor: /^\w*$/ };
    if (["part", "supply", "battery"].includes(words[0]) && words.length === 2 && typed) {
      return { from, options: await kinds(typed), filter: false };
    }
    if (["part", "supply", "battery"].includes(words[0]) && words.length === 1) return null;
    const first = COLOURS.includes(words[0]) ? "wire" : words[0];
    const keywords = options(AFTER[first] ?? AFTER.part, "keyword");
    return { from, options: [...keywords, ...ofTheList(context.state.doc.toString(), parts())], validFor: /^[\w.+@-]*$/ };
  };
}
