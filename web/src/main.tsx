import { render } from "preact";

function Start() {
  return <main><h1>Plytide</h1></main>;
}

const page = document.getElementById("page");
if (page) render(<Start />, page);
