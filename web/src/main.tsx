// The page comes to life: the phone's log is read, the screen takes the shell's place, and only then does anything talk
// to the network. What is tapped on the shell's buttons in the meantime is kept (first.ts) and handed over.
import { effect } from "@preact/signals";
import { render } from "preact";
import { App } from "./App";
import { open, ready, trouble } from "./log/book";
import { startSync } from "./log/sync";
import { spoken } from "./prefs";
import { heedOutside } from "./today/outside";

const root = document.getElementById("page")!;

let started = false;
effect(() => {
  if (started || spoken.value === false || !(ready.value || trouble.value)) return;
  started = true;
  root.replaceChildren();
  render(<App />, root);
  heedOutside();
  // Two frames on, the first screen is painted: now there is time for the font, the network and the service worker.
  requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(later)));
});

function later(): void {
  const font = document.querySelector<HTMLMetaElement>('meta[name="plytide-font"]');
  if (font) document.head.append(Object.assign(document.createElement("link"), { rel: "stylesheet", href: font.content }));
  startSync();
  void import("./update").then(({ startUpdates }) => startUpdates()).catch(() => {}); // no service worker here (private window): the page works while it is online
}

void open();
