// The page for one list: what is written is checked a moment later, and everything shown follows from that one answer.

import { byId, make, save } from "./making.js";
import { lookUp, ofList } from "./asking.js";
import * as writing from "./writing.js";
import { findingsOf, sentence } from "./findings.js";
import { helper } from "./helper.js";
import { lightUp, showBeside, showCard, showMeter, showSlips } from "./beside.js";
import { fromLink, isLink, linkTo } from "./sharing.js";
import { tabs } from "./tabs.js";

const PAUSE = 300; // Milliseconds without a key before a check: shorter than a breath, longer than between two keys.
const DRAFT = "legwise-list";
const MARKS = /[ \t]*#:.*$/gm; // What tests announce in the examples.
const FAR = /[ \t]{3,}(?=#)/gm; // Comments in a column of their own, for which the page has no room.
const NOTHING = ["NO LIST YET", "Paste your list open an example, or add a line by answering."];

const state = { answer: null, text: null, shown: null, asking: null, timer: 0, tab: "board", laterOf: {}, line: 1, linked: null };
const view = writing.editorIn(byId("editor"), { changed, moved, parts: () => state.answer?.parts ?? [] });
const chooseTab = tabs(document.querySelector("[role=tablist]"), opened);
const ask = helper({ add: (line) => { writing.addLine(view, line); announce("The line was added."); view.focus(); },
                     taken: () => (state.answer?.parts ?? []).map((part) => part.name) });

function announce(text) {
  byId("announced").textContent = text;
}

function tell(text) {
  byId("told").textContent = text;
  announce(text);
}

// ── checking ────────────────────────────────────────────────────────────────────────────────────────────────────────

function changed() {
  byId("undo").disabled = !writing.canUndo(view);
  byId("redo").disabled = !writing.canRedo(view);
  byId("result").setAttribute("aria-busy", "true");
  state.shown = null;
  // A link that is older than the list would bring the old one back when the page is loaded again.
  if (isLink(location.hash) && writing.textOf(view) !== state.linked) history.replaceState(null, "", location.pathname);
  clearTimeout(state.timer);
  state.timer = setTimeout(check, PAUSE);
}

async function check() {
  const text = writing.textOf(view);
  state.asking?.abort();
  sessionStorage.setItem(DRAFT, text);
  if (!text.trim()) {
    showNothing();
    return;
  }
  state.asking = new AbortController();
  try {
    const answer = await ofList("/page", text, state.asking.signal);
    if (text === writing.textOf(view)) show(answer, text);
  } catch (refusal) {
    if (refusal.name === "AbortError") return;
    showRefusal(refusal);
    if (refusal.after) state.timer = setTimeout(check, 1000 * refusal.after);
  }
}

function stamp(verdict, name, headline) {
  byId("stamp").textContent = verdict;
  byId("stamp").className = `stamp ${name}`;
  byId("headline").textContent = headline;
  byId("peek").textContent = verdict;
  byId("peek").className = `peek ${name}`;
  byId("result").setAttribute("aria-busy", "false");
}

function showNothing() {
  Object.assign(state, { answer: null, text: "" });
  stamp(NOTHING[0], "", NOTHING[1]);
  byId("count").textContent = "";
  byId("findings").replaceChildren();
  byId("advice").replaceChildren();
  byId("assumed-box").hidden = true;
  writing.underline(view, [], []);
  announce("");
}

function showRefusal(refusal) {
  stamp("NOT CHECKED", "unreadable", refusal.message);
  byId("findings").replaceChildren();
  announce(`Not checked. ${refusal.message}`);
}

function show(answer, text) {
  const { report, words } = answer;
  const before = state.answer?.report.verdict;
  Object.assign(state, { answer, text });
  stamp(words.verdict, report.verdict, sentence(report.headline));
  byId("count").textContent = report.findings.length > 1 ? words.counted : "";
  byId("findings").replaceChildren(...findingsOf(answer, { show: showMe, apply, respell, see }));
  byId("advice").replaceChildren(...report.advice.map((line) => make("p", {}, sentence(line))));
  byId("assumed").replaceChildren(...report.assumed.map((line) => make("li", {}, line)));
  byId("assumed-box").hidden = !report.assumed.length;
  document.title = `${words.verdict}: ${report.title ?? "a list"}`;
  writing.underline(view, report.findings, words.findings.map((each) => each.severity), apply);
  showBeside(answer);
  moved(state.line);
  opened(state.tab);
  announce(`${words.verdict}. ${sentence(report.headline)} ${before && before !== report.verdict ? "This has changed." : ""}`);
}

// ── findings ────────────────────────────────────────────────────────────────────────────────────────────────────────

function showMe(number) {
  const finding = state.answer.report.findings[number];
  const again = state.shown === number;
  state.shown = again ? null : number;
  for (const button of document.querySelectorAll(".show")) button.removeAttribute("aria-pressed");
  writing.light(view, again ? null : finding.span);
  if (!["board", "diagram"].includes(state.tab)) chooseTab("board");
  lightUp(again ? null : finding, number);
  if (again) return;
  document.querySelector(`#finding-${number} .show`).setAttribute("aria-pressed", "true");
  const lit = document.querySelector("[role=tabpanel]:not([hidden]) .lit");
  (lit ?? byId(`panel-${state.tab}`)).scrollIntoView({ block: "center", inline: "center", behavior: matchMedia("(prefers-reduced-motion: reduce)").matches ? "auto" : "smooth" });
  announce(`Line ${finding.span.line} is marked in the list, and ${[...finding.parts, ...finding.points].join(", ")} on the board.`);
}

// Edits fit the text that was checked, and no other.
function edit(make, told) {
  if (writing.textOf(view) !== state.text) {
    tell("The list has changed since it was checked. Wait a moment.");
    return;
  }
  make();
  tell(told);
  byId("verdict").focus();
}

const apply = (fix) => edit(() => writing.makeEdits(view, fix.edits), `Changed: ${fix.say}. Do the same on the board. Undo takes it back.`);
const see = (sight) => edit(() => writing.makeEdits(view, [sight]), `Written: ${sight.words}. Undo takes it back.`);
const respell = (spelling) => edit(() => writing.respell(view, spelling), `Written: ${spelling.write}. Undo takes it back.`);

// ── beside ──────────────────────────────────────────────────────────────────────────────────────────────────────────

function opened(name) {
  state.tab = name;
  if (!state.answer || state.laterOf[name] === state.text) return;
  if (name === "slips") showSlips(state.text, state.answer.report.verdict === "clear", state.asking?.signal);
  if (name === "meter") showMeter(state.text, state.asking?.signal);
  state.laterOf[name] = state.text;
}

function moved(line) {
  state.line = line;
  const words = view?.state.doc.line(Math.min(line, view.state.doc.lines)).text.toLowerCase().match(/[\w-]+/g) ?? [];
  const parts = state.answer?.parts ?? [];
  showCard(parts.find((part) => part.line === line) ?? parts.find((part) => words.includes(part.name.toLowerCase())));
}

// ── controls ────────────────────────────────────────────────────────────────────────────────────────────────────────

const fileName = () => (state.answer?.report.title ?? "list").toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-|-$/g, "").slice(0, 60) || "list";

const CONTROLS = {
  "open-example": async () => {
    const text = await lookUp(`/examples/${encodeURIComponent(byId("example").value)}`);
    writing.write(view, text.replace(MARKS, "").replace(FAR, "  "));
  },
  ask: () => ask.open(),
  undo: () => writing.undo(view),
  redo: () => writing.redo(view),
  share: async () => {
    state.linked = writing.textOf(view);
    const link = await linkTo(state.linked);
    history.replaceState(null, "", link);
    const copied = await navigator.clipboard?.writeText(link).then(() => true, () => false);
    tell(copied ? "The link is copied. It holds the list itself; nothing is stored on the server."
                : "The link is in the address bar. It holds the list itself; nothing is stored on the server.");
  },
  save: () => save(`${fileName()}.legs`, writing.textOf(view), "text/plain"),
  "save-report": async () => save(`${fileName()}.html`, await ofList("/report", writing.textOf(view))),
};

for (const [id, does] of Object.entries(CONTROLS)) {
  byId(id).addEventListener("click", async () => {
    try {
      await does();
    } catch (problem) {
      tell(problem.message);
    }
  });
}

async function start() {
  try {
    const shared = await fromLink(location.hash);
    state.linked = shared;
    writing.write(view, shared ?? sessionStorage.getItem(DRAFT) ?? "");
  } catch {
    tell("The list in this link is broken. Ask for the link again.");
  }
}

// On a narrow screen the verdict stands at its lower edge until the result itself is in view.
new IntersectionObserver(([result]) => { byId("peek").hidden = result.isIntersecting; }).observe(byId("result"));
addEventListener("hashchange", () => isLink(location.hash) && start());
start();
