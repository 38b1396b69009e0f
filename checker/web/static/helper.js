// Adding a line by answering questions. Which questions there are comes from the server, which has them from the library.

import { byId, make } from "./making.js";
import { lookUp } from "./asking.js";

const KINDS = [["part", "a part"], ["supply", "a battery or other supply"], ["wire", "a wire"], ["pin", "what the program does with a pin"]];
const LOOK = "?";
const HOLE = /^[a-j]\d{1,2}$/i;

/** Opens with `open()`; `add(line)` is called with the statement; `taken()` gives the names that the list has. */
export function helper({ add, taken }) {
  const dialog = byId("helper");
  const room = byId("helper-questions");
  let fields = [];

  function first() {
    const chosen = (event) => (["wire", "pin"].includes(event.target.value) ? ask(event.target.value) : which(event.target.value));
    const kind = make("select", { id: "helper-kind", onchange: chosen }, make("option", { value: "" }, "choose"),
      KINDS.map(([value, words]) => make("option", { value }, words)));
    room.replaceChildren(field("What do you want to add?", kind), make("div", { id: "helper-which" }), make("div", { id: "helper-form-questions" }));
    fields = [];
    said();
  }

  function which(kind) {
    const search = make("input", { id: "helper-words", type: "search", autocomplete: "off", oninput: () => found(search.value, kind) });
    byId("helper-which").replaceChildren(
      field("Which one?", search, "what is printed on it, or what it is: 2222, red LED, motor, 9V"), make("ul", { id: "helper-found", class: "found" }));
    byId("helper-form-questions").replaceChildren();
    if (kind === "supply") found("battery", kind);
    search.focus();
  }

  async function found(words, kind) {
    if (!words.trim()) return;
    const listing = await lookUp(`/parts?words=${encodeURIComponent(words.trim())}`).catch(() => null);
    const list = byId("helper-found");
    const now = byId("helper-words")?.value.trim();
    if (!list || !listing || (now && now !== words.trim())) return;
    const fitting = listing.parts.filter((part) => (part.kind === "supply") === (kind === "supply")).slice(0, 8);
    list.replaceChildren(...(fitting.length ? fitting.map((part) => make("li", {}, make("button", { type: "button", onclick: () => ask(part.name) },
      make("b", {}, part.name), ` ${part.says}`))) : [make("li", { class: "aside" }, "Nothing of that name.")]));
  }

  async function ask(name) {
    const form = await lookUp(`/questions/${encodeURIComponent(name)}`);
    if (!["wire", "pin"].includes(name)) byId("helper-which").replaceChildren(make("p", {}, make("b", {}, form.about)));
    else byId("helper-which").replaceChildren();
    fields = form.questions.map((question, number) => ({ question, input: inputFor(question, number, taken()) }));
    byId("helper-form-questions").replaceChildren(...fields.map(({ question, input }) => field(question.ask, input, question.hint)));
    for (const { input } of fields) for (const event of ["input", "change"]) input.addEventListener(event, said);
    said();
    fields[0].input.focus();
  }

  function answers() {
    const holes = fields.find(({ question }) => question.answer === "holes")?.input.value.split(/[\s,]+/).filter(Boolean) ?? [];
    return fields.map(({ question, input }) => ({ question, input, value: input.value.trim().replaceAll(",", " "), holes }));
  }

  function said() {
    const given = answers();
    refill(given);
    const problem = given.map(wrong).find(Boolean) ?? "";
    byId("helper-problem").textContent = given.some(({ value }) => value) ? problem : "";
    byId("helper-line").textContent = given.filter(({ value }) => value && value !== LOOK).map(({ question, value }) => question.writes.replace("{}", value)).join(" ");
    byId("helper-add").disabled = !fields.length || Boolean(problem);
  }

  function close() {
    dialog.close();
  }

  byId("helper-cancel").addEventListener("click", close);
  byId("helper-form").addEventListener("submit", (event) => {
    event.preventDefault();
    const given = answers();
    if (!fields.length || given.some(wrong)) return;
    const line = byId("helper-line").textContent;
    close();
    add(line);
  });
  return { open: () => { first(); dialog.showModal(); } };
}

function field(words, input, hint) {
  const label = make("label", { for: input.id }, words);
  if (!hint) return make("p", { class: "question" }, label, input);
  const id = `${input.id}-hint`;
  input.setAttribute("aria-describedby", id);
  return make("p", { class: "question" }, label, make("span", { class: "aside", id }, hint), input);
}

function inputFor(question, number, taken) {
  const id = `helper-answer-${number}`;
  if (question.answer === "choice") {
    // Which way a part faces is looked up on the board, not left as it stands here.
    const unseen = question.optional && make("option", { value: LOOK }, "look at the part, then choose");
    return make("select", { id }, unseen, question.choices.map(({ says, writes }) => make("option", { value: writes }, says)));
  }
  if (["hole-of", "end-of"].includes(question.answer)) return make("select", { id }, make("option", { value: "" }, "I cannot tell"));
  const value = question.answer === "name" ? freeName(question.offer, taken) : question.offer;
  return make("input", { id, type: "text", autocomplete: "off", autocapitalize: "off", spellcheck: "false", value });
}

function freeName(letters, taken) {
  const names = new Set(taken.map((name) => name.toLowerCase()));
  let number = 1;
  while (names.has(`${letters}${number}`.toLowerCase())) number += 1;
  return `${letters}${number}`;
}

// Choices that follow from another answer: the holes, or the rows at both ends.
function refill(given) {
  const rows = given.find(({ question }) => question.answer === "rows")?.value.match(/\d+/g) ?? [];
  for (const { question, input, holes } of given) {
    const choices = { "hole-of": holes, "end-of": rows.slice(0, 2) }[question.answer];
    if (!choices) continue;
    const { value } = input;
    const known = [...input.options].slice(1).map((option) => option.value);
    if (known.join() === choices.join()) continue;
    input.replaceChildren(make("option", { value: "" }, "I cannot tell"), ...choices.map((choice) =>
      make("option", { value: choice }, question.answer === "end-of" ? `row ${choice}` : choice)));
    input.value = choices.includes(value) ? value : "";
  }
}

/** What is wrong with an answer, or nothing. */
function wrong({ question, value, holes }) {
  if (value === LOOK) return `${question.ask} This needs an answer.`;
  if (!value) return question.optional ? "" : `${question.ask} This needs an answer.`;
  if (question.answer === "name" && !/^[a-z][\w-]*$/i.test(value)) return "A name begins with a letter and has no blank in it.";
  if (question.answer === "holes") {
    const bad = holes.find((hole) => !HOLE.test(hole) && !/^[lr][+-]\d*$/i.test(hole));
    if (bad) return `"${bad}" is no hole. A hole is a column and a row, such as a5.`;
    if (holes.length !== question.count) return `It has ${question.count} legs, so name ${question.count} holes. So far ${holes.length}.`;
  }
  if (question.answer === "rows" && !/^\d{1,2}\s*-\s*\d{1,2}$/.test(value)) return "Write the first and the last row, such as 10-13.";
  return "";
}
