// What the phone judges by itself, fetched when there is something to judge.
import "../App"; // the first script stays in one piece: see today/beside.ts

export { signsHere } from "./stand";
