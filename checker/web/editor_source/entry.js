// The parts of CodeMirror that checker/web/static uses; nothing of our own is in here.
export { autocompletion, completionKeymap, closeCompletion } from "@codemirror/autocomplete";
export { defaultKeymap, history, historyKeymap, redo, redoDepth, undo, undoDepth } from "@codemirror/commands";
export { HighlightStyle, StreamLanguage, syntaxHighlighting } from "@codemirror/language";
export { lintGutter, lintKeymap, setDiagnostics } from "@codemirror/lint";
export { Compartment, EditorState, StateEffect, StateField } from "@codemirror/state";
export { Decoration, EditorView, drawSelection, highlightActiveLine, keymap, lineNumbers, placeholder } from "@codemirror/view";
export { tags } from "@lezer/highlight";
