// Findings as a list: what is wrong, its numbers, what to do, and one press to do it. All words come from the checker.

import { make } from "./making.js";
import { lookUp } from "./asking.js";

const HEADINGS = [["means", "What it means"], ["matters", "Why it matters"], ["meter", "How to check with a meter"], ["source", "Source"]];

/** The findings of an answer. `does` has `show(number)`, `apply(fix)`, `respell(spelling)`, `see(sight)`. */
export function findingsOf(answer, does) {
  return answer.report.findings.map((finding, number) => one(finding, answer.words, number, does, answer));
}

export const sentence = (text) => (/[.?!]$/.test(text) ? text : `${text}.`);
const atPlace = ({ span }, { line, column }) => span.line === line && span.column === column;

function one(finding, words, number, does, { spellings, sights }) {
  const said = words.findings[number];
  const id = `finding-${number}`;
  const seen = sights.filter((sight) => atPlace(finding, sight));
  const meant = spellings.find((spelling) => atPlace(finding, spelling));
  const show = make("button", { type: "button", class: "show", onclick: () => does.show(number) }, "Show me",
    make("span", { class: "unseen" }, `: ${finding.message}`));
  return make("li", { class: `finding ${finding.severity}`, id, "aria-labelledby": `${id}-title`, "data-rule": finding.rule },
    make("h2", { id: `${id}-title` }, make("span", { class: "severity" }, said.severity), `: ${finding.message}`),
    seen.length > 0 && make("fieldset", { class: "fix" }, make("legend", {}, "What do you see on the board?"),
      seen.map((sight) => make("button", { type: "button", class: "see", onclick: () => does.see(sight) },
        `${sight.words[0].toUpperCase()}${sight.words.slice(1)}`))),
    finding.why && finding.why.split("\n").map((line) => make("p", {}, sentence(line))),
    said.numbers.length > 0 && make("ul", { class: "evidence aside" }, said.numbers.map((text) => make("li", {}, text))),
    finding.fixes.map((fix, index) => offer(fix, said.edits[index], index, words.checked, does, index ? null : show)),
    finding.fixes.length === 0 && make("div", { class: "tools" }, meant && make("button",
      { type: "button", class: "apply first-choice", onclick: () => does.respell(meant) }, `Write ${meant.write}`), show),
    finding.consequences.length > 0 && follows(finding.consequences), explained(finding.rule));
}

function offer(fix, edits, index, checked, does, show) {
  const unsure = fix.checked ? make("span", { class: "sure", title: checked }, "checked") : make("span", { class: "sure" }, "not checked");
  return make("div", { class: "fix" },
    make("p", {}, make("b", {}, index ? "Or this: " : "Do this: "), fix.say, " ", unsure),
    make("div", { class: "edits" }, edits.map(edit)),
    make("div", { class: "tools" },
      fix.checked && make("button", { type: "button", class: index ? "apply" : "apply first-choice", onclick: () => does.apply(fix) },
        "Make this change", make("span", { class: "unseen" }, `: ${fix.say}`)),
      show));
}

function edit(change) {
  return make("div", { class: "edit" },
    change.before && make("del", {}, make("span", { class: "sign", "aria-hidden": "true" }, "− "), change.before.trim()),
    change.after && make("ins", {}, make("span", { class: "sign", "aria-hidden": "true" }, "+ "), change.after.trim()));
}

function follows(consequences) {
  return make("details", {}, make("summary", {}, `What follows from it (${consequences.length})`),
    make("ul", { class: "consequences" }, consequences.map((each) =>
      make("li", {}, make("b", {}, each.message), each.why && `. ${sentence(each.why.replaceAll("\n", ". "))}`))));
}

// What the rule means is asked for when it is opened.
function explained(rule) {
  const room = make("div", {});
  const open = (event) => {
    if (event.target.open && !room.childElementCount) fill(room, rule);
  };
  return make("details", { class: "about", ontoggle: open }, make("summary", {}, "More about ", make("code", {}, rule)), room);
}

async function fill(room, rule) {
  try {
    const text = await lookUp(`/why/${encodeURIComponent(rule)}`);
    room.replaceChildren(...HEADINGS.filter(([field]) => text[field]).flatMap(([field, heading]) => [
      make("h3", {}, heading), ...text[field].split("\n\n").map((paragraph) => make("p", {}, paragraph))]));
  } catch (refusal) {
    room.replaceChildren(make("p", {}, refusal.message));
  }
}
