// Reads what the page was given, and shows it.
import { showHomework } from "./page.js";

const data = document.getElementById("homework");
const main = document.querySelector("main");
const status = document.getElementById("told");
if (data && main) {
  showHomework(JSON.parse(data.textContent ?? ""), main, (text) => {
    if (status) status.textContent = text;
  });
}
