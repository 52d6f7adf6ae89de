// The page comes to life: the phone's log is read, the screen takes the shell's place, and only then does anything talk
// to the network. What is tapped on the shell's buttons in the meantime is kept (first.ts) and handed over.
import { effect } from "@preact/signals";
import { options, render } from "preact";
import { App } from "./App";
import { fetched } from "./fetched";
import { open, ready, trouble } from "./log/book";
import { underWay } from "./log/saving";
import { spoken } from "./prefs";
import { showBeside } from "./today/besideLater";
import { heedOutside } from "./today/outside";
import { dated } from "./moments";

const root = document.getElementById("page")!;

// What a tap has written is let onto the disk before the screen is drawn anew, unless that takes long: while it draws, a
// page cannot hear that it has saved.
options.debounceRendering = (draw) => void Promise.race([underWay(), new Promise((over) => setTimeout(over, 32))]).then(draw);

let started = false;
dated.value = false;
effect(() => {
  if (started || spoken.value === false || !(ready.value || trouble.value)) return;
  started = true;
  root.replaceChildren();
  render(<App />, root);
  heedOutside();
  // After the next frame the first screen is painted: now there is time for dates and what stands beside it, and another
  // frame on for the font, the network and the service worker.
  requestAnimationFrame(() => setTimeout(() => {
    dated.value = true;
    showBeside();
    requestAnimationFrame(() => setTimeout(later));
  }));
});

function later(): void {
  const font = document.querySelector<HTMLMetaElement>('meta[name="plytide-font"]');
  if (font) document.head.append(Object.assign(document.createElement("link"), { rel: "stylesheet", href: font.content }));
  fetched(() => import("./log/sync"), ({ startSync }) => startSync());
  // Where there is no service worker (private window) the page works while it is online.
  fetched(() => import("./update"), ({ startUpdates }) => void startUpdates().catch(() => {}));
}

void open();
