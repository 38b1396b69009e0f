// The editor: what the reader writes, with slips underlined, words offered, and undo.

import {
  autocompletion, completionKeymap, defaultKeymap, Decoration, drawSelection, EditorState, EditorView, highlightActiveLine, history,
  historyKeymap, keymap, lineNumbers, lintKeymap, placeholder, redo, redoDepth, setDiagnostics, StateEffect, StateField,
  undo, undoDepth,
} from "./codemirror.js";
import { language, offers } from "./language.js";

const EMPTY = `Paste your list here. It looks like this:

title "Tide tank lamp"
supply PACK 5V on L+ L-
part R1 220 in a5 a10
part LED1 led red in b10 b15 long b10
wire L+ to c5
wire c15 to L-`;

const LEVELS = { danger: "error", damage: "error", fault: "warning", look: "info", note: "hint" };

// The line of the finding that is shown just now.
const shine = StateEffect.define();
const shining = StateField.define({
  create: () => Decoration.none,
  update(value, transaction) {
    for (const effect of transaction.effects) if (effect.is(shine)) return effect.value;
    return value.map(transaction.changes);
  },
  provide: (field) => EditorView.decorations.from(field),
});

/** The editor in `parent`. `changed()` after every change of the text, `moved(line)` when the cursor comes to another line. */
export function editorIn(parent, { changed, moved, parts }) {
  let line = 0;
  const watch = EditorView.updateListener.of((update) => {
    if (update.docChanged) changed();
    const now = update.state.doc.lineAt(update.state.selection.main.head).number;
    if (now !== line || update.docChanged) moved((line = now));
  });
  return new EditorView({
    parent,
    state: EditorState.create({
      extensions: [
        EditorView.cspNonce.of(parent.dataset.styleNonce), EditorView.lineWrapping, EditorView.contentAttributes.of({
          "aria-labelledby": "list-title", "aria-describedby": "list-hint", spellcheck: "false", autocapitalize: "off", autocorrect: "off", tabindex: "0",
        }),
        history(), drawSelection(), lineNumbers(), highlightActiveLine(), placeholder(EMPTY), shining, language, watch,
        autocompletion({ override: [offers(parts)], icons: false, maxRenderedOptions: 40 }),
        keymap.of([...completionKeymap, ...lintKeymap, ...historyKeymap, ...defaultKeymap]),
      ],
    }),
  });
}

export const textOf = (view) => view.state.doc.toString();
export const canUndo = (view) => undoDepth(view.state) > 0;
export const canRedo = (view) => redoDepth(view.state) > 0;
export { redo, undo };

/** Replace the whole list, as one step to undo. */
export function write(view, text) {
  view.dispatch({ changes: { from: 0, to: view.state.doc.length, insert: text }, selection: { anchor: 0 }, scrollIntoView: true });
}

/** Add one line at the end. */
export function addLine(view, text) {
  const { doc } = view.state;
  const last = doc.line(doc.lines);
  const insert = last.text.trim() || doc.lines === 1 && last.length ? `\n${text}\n` : `${text}\n`;
  view.dispatch({ changes: { from: doc.length, insert }, selection: { anchor: doc.length + insert.length }, scrollIntoView: true });
}

/** Make the edits of a fix, as one step to undo: a line becomes its text, goes where that is empty, or is added. */
export function makeEdits(view, edits) {
  const { doc } = view.state;
  let added = "";
  const changes = [];
  for (const { line, text } of edits) {
    if (line > doc.lines) {
      added += `\n${text}`;
    } else {
      const { from, to } = doc.line(line);
      changes.push(text ? { from, to, insert: text } : { from, to: Math.min(to + 1, doc.length) });
    }
  }
  if (added) changes.push({ from: doc.length, insert: added });
  const first = doc.line(Math.min(edits[0].line, doc.lines));
  view.dispatch({ changes, selection: { anchor: first.from }, scrollIntoView: true, userEvent: "input.fix" });
}

/** Write a word in place of a stretch, as one step to undo. */
export function respell(view, { line, column, end_column: end, write: insert }) {
  const { doc } = view.state;
  const from = place(doc, line, column);
  view.dispatch({ changes: { from, to: place(doc, line, end), insert }, selection: { anchor: from }, scrollIntoView: true, userEvent: "input.fix" });
}

// Columns of a report count characters, those of the editor halves of a surrogate pair.
function place(doc, line, column) {
  const found = doc.line(Math.min(Math.max(line, 1), doc.lines));
  return Math.min(found.from + [...found.text].slice(0, column - 1).join("").length, found.to);
}

function stretch(doc, span) {
  const from = place(doc, span.line, span.column);
  const to = Math.max(from, place(doc, span.end_line, span.end_column));
  return from === to ? { from: doc.lineAt(from).from, to: doc.lineAt(from).to } : { from, to };
}

/** Underline what was found; `apply(finding, fix)` is called where a fix is taken from beside the text. */
export function underline(view, findings, severities, apply) {
  const diagnostics = findings.map((finding, number) => ({
    ...stretch(view.state.doc, finding.span), severity: LEVELS[finding.severity], markClass: `slip-${finding.severity}`,
    message: `${severities[number]}: ${finding.message}`,
    actions: finding.fixes.slice(0, 1).map((fix) => ({ name: "Make this change", apply: () => apply(fix) })),
  }));
  view.dispatch(setDiagnostics(view.state, diagnostics));
}

/** Let the lines of a finding shine, and bring them into view; nothing with no span. */
export function light(view, span) {
  if (!span) {
    view.dispatch({ effects: shine.of(Decoration.none) });
    return;
  }
  const { doc } = view.state;
  const { from } = doc.line(Math.min(span.line, doc.lines));
  const mark = Decoration.line({ class: "shining" }).range(from);
  view.dispatch({ effects: [shine.of(Decoration.set([mark])), EditorView.scrollIntoView(from, { y: "center" })] });
}

/** Put the cursor at the beginning of a stretch. */
export function goTo(view, span) {
  view.dispatch({ selection: { anchor: stretch(view.state.doc, span).from }, scrollIntoView: true });
  view.focus();
}
