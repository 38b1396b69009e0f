// What stands beside the findings: the board, the diagram, the meter sheet, where to look twice, the card of a part.

import { drawn, make } from "./making.js";
import { lookUp, ofList } from "./asking.js";

const SVG = "image/svg+xml";
const NONE = { board: "There is no board to draw yet.", diagram: "There are no connections to draw yet." };

const panel = (name) => document.getElementById(`panel-${name}`);
const fill = (name, ...children) => panel(name).replaceChildren(...children);
const aside = (text) => make("p", { class: "aside" }, text);

/** Everything that came with an answer. */
export function showBeside(answer) {
  const board = drawn(answer.drawing, SVG);
  fill("board", board ? make("figure", { class: "drawing" }, board) : aside(NONE.board));
  const diagram = drawn(answer.diagram, SVG);
  fill("diagram", diagram ? make("figure", { class: "diagram" }, diagram) : aside(NONE.diagram));
}

/** What a meter should read; it is computed when it is looked at. */
export async function showMeter(text, signal) {
  fill("meter", aside("Working out what a meter should read."));
  try {
    const piece = drawn(await (await ofList("/meter-sheet", text, signal)).text(), "application/xhtml+xml");
    if (piece) fill("meter", piece);
  } catch (refusal) {
    if (refusal.name !== "AbortError") fill("meter", aside(refusal.message));
  }
}

/** Light up a finding on the drawing: what carries its number, its parts and its holes; nothing for none. */
export function lightUp(finding, number) {
  for (const name of ["board", "diagram"]) {
    const drawing = panel(name).querySelector("svg");
    if (!drawing) continue;
    for (const lit of drawing.querySelectorAll(".lit")) lit.classList.remove("lit");
    drawing.classList.toggle("lighting", Boolean(finding));
    if (!finding) continue;
    const parts = new Set(finding.parts.map((part) => part.toLowerCase()));
    const holes = new Set(finding.points.map((point) => point.toLowerCase()));
    for (const each of drawing.querySelectorAll("[data-part], [data-hole], [data-finding]")) {
      const { part, hole, finding: of } = each.dataset;
      const found = (of !== undefined && of.split(" ").includes(String(number))) || parts.has(part?.toLowerCase()) || holes.has(hole?.toLowerCase());
      each.classList.toggle("lit", Boolean(found));
    }
  }
}

/** The build sheet of a list; it is computed when it is looked at. */
export async function showSlips(text, clear, signal) {
  if (!clear) {
    fill("slips", aside("Where to look twice is said once the list is clear."));
    return;
  }
  fill("slips", aside("Trying every single slip of the hand. This takes a few seconds."));
  try {
    fill("slips", ...sheet(await ofList("/slips", text, signal)));
  } catch (refusal) {
    if (refusal.name !== "AbortError") fill("slips", aside(refusal.message));
  }
}

function sheet({ summary, look_twice: twice }) {
  const said = `${summary.simulated} slips simulated: ${summary.destructive} destructive, ${summary.not_working} only keep it from working.`;
  if (!twice.length) return [aside(said), make("p", {}, "No single slip of these destroys anything.")];
  return [aside(said), make("ul", { class: "twice" }, twice.map(({ at, slips }) => make("li", {},
    make("label", {}, make("input", { type: "checkbox" }), " ", make("b", {}, at), `: ${slips[0].right}`),
    make("p", { class: "aside" }, `${slips[0].wrong}: ${slips[0].message}.`))))];
}

/** The card of a part of the list, or what there is to say instead. */
export async function showCard(part) {
  if (!part) return;
  if (!part.entry) {
    fill("card", make("h3", {}, part.name), make("p", {}, "There is no card for it: all that is known of it is in your list."));
    return;
  }
  try {
    fill("card", ...card(part.name, await lookUp(`/parts/${encodeURIComponent(part.entry)}`)));
  } catch (refusal) {
    fill("card", aside(refusal.message));
  }
}

function card(name, of) {
  const limits = of.ratings.filter((row) => row.limit);
  const others = of.ratings.filter((row) => !row.limit);
  return [
    make("h3", {}, `${name}: ${of.name}`), make("p", {}, of.says), make("p", { class: "aside" }, `${of.package}: ${of.package_says}. ${of.seen[0].toUpperCase()}${of.seen.slice(1)}.`),
    make("pre", { class: "card-drawing", role: "img", "aria-label": `${of.name}, ${of.seen}: ${of.pins.map((pin) => `pin ${pin.number} ${pin.name}`).join(", ")}`, tabindex: "0" },
      of.drawing.join("\n")),
    of.marks.length > 0 && make("p", {}, `${of.marks.map((mark) => mark.says).join("; ")}.`),
    of.other_orders.map((order) => make("p", {}, make("b", {}, "Also sold as "), order.pins.join(" "), order.marked && `: ${order.marked}`,
      order.tell && `. ${order.tell}`)),
    of.cautions.map((caution) => make("p", {}, make("b", {}, "Take care: "), caution)),
    rows("Never beyond", limits), rows("Usual values", others),
    of.sources.length > 0 && make("p", { class: "aside" }, `From: ${of.sources.map((source) => source.document).join("; ")}.`),
    of.from_memory.length > 0 && make("p", { class: "aside" }, `From memory: ${of.from_memory.join(", ")}.`),
  ].flat().filter(Boolean);
}

function rows(title, ratings) {
  return ratings.length > 0 && make("table", { class: "sheet" }, make("caption", {}, title),
    make("tbody", {}, ratings.map((row) => make("tr", {}, make("th", { scope: "row" }, row.what), make("td", {}, row.said)))));
}
