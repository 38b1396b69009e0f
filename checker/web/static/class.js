// The page for a class: files go to the server in one request, the table and the files to keep come back.

import { byId, make, save } from "./making.js";
import { ofFiles } from "./asking.js";

const FIELDS = ["lists", "reference", "marks", "roster"];
const input = (name) => byId(`file-${name}`);

function chosen() {
  const names = [...input("lists").files].map((file) => file.name);
  byId("chosen").textContent = names.length ? `${names.length === 1 ? names[0] : `${names.length} files`} chosen.` : "";
}

function tell(text) {
  byId("class-told").textContent = text;
}

function decoded({ name, type, content }) {
  return new Blob([Uint8Array.from(atob(content), (letter) => letter.charCodeAt(0))], { type });
}

function show(answer) {
  byId("class-summary").textContent = answer.summary;
  byId("downloads").replaceChildren(...answer.downloads.map((each) =>
    make("button", { type: "button", onclick: () => save(each.name, decoded(each)) }, `Save ${each.name}`)));
  byId("class-table").replaceChildren(
    make("thead", {}, make("tr", {}, answer.columns.map((words) => make("th", { scope: "col" }, words)))),
    make("tbody", {}, answer.rows.map(({ verdict, cells }) => make("tr", {},
      cells.map((text, at) => make(at ? "td" : "th", at ? {} : { scope: "row" },
        at === answer.verdict_column && verdict ? make("span", { class: `stamp ${verdict}` }, text) : text))))));
  byId("class-result").hidden = false;
  byId("class-result").focus();
}

async function check(event) {
  event.preventDefault();
  if (!input("lists").files.length) {
    tell("Choose what was handed in first.");
    input("lists").focus();
    return;
  }
  const form = new FormData();
  for (const name of FIELDS) for (const file of input(name).files) form.append(name, file, file.name);
  byId("check-class").disabled = true;
  tell("Checking every list. A large class takes some minutes.");
  try {
    show(await ofFiles("/class", form));
    tell("Done.");
  } catch (refusal) {
    tell(refusal.message);
  } finally {
    byId("check-class").disabled = false;
  }
}

const drop = byId("drop");
for (const name of ["dragover", "dragenter"]) {
  drop.addEventListener(name, (event) => {
    event.preventDefault();
    drop.classList.add("over");
  });
}
drop.addEventListener("dragleave", () => drop.classList.remove("over"));
drop.addEventListener("drop", (event) => {
  event.preventDefault();
  drop.classList.remove("over");
  input("lists").files = event.dataTransfer.files;
  chosen();
});
input("lists").addEventListener("change", chosen);
byId("class-form").addEventListener("submit", check);
