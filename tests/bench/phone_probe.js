// Runs in every page of bench_phone.py before the page's own scripts, and times what happens from inside.
//
// bench.live    ms from opening to the screen made from the log (null before)
// bench.lcp     ms from opening to the largest paint so far
// bench.begin(selector?), and after the tap bench.told(): {saved, painted, shown} in ms from the tap. `saved`: the end of
//   the transaction it began, when the page may say so (null: none); `painted`: the later of the browser's own event
//   timing and the paint of the first change; `shown`: the paint of what the selector names.
(() => {
  const bench = (window.bench = { live: null, lcp: null });
  let tapped = 0;
  let awaited = false;
  let tap = {};

  bench.begin = (selector) => {
    tap = { saved: null, painted: 16, shown: null }; // what is faster than a frame is not told by event timing
    if (selector) bench.shown(selector).then((ms) => { tap.shown = ms; });
  };
  bench.told = () => tap;
  // Called back when the frame that is next drawn has been: before anything the page itself does after it.
  const painted = (then) => requestAnimationFrame(() => void scheduler.postTask(then, { priority: "user-blocking" }));
  addEventListener("click", (event) => { tapped = event.timeStamp; awaited = true; }, true);
  new MutationObserver(() => {
    if (!awaited) return;
    awaited = false;
    painted(() => { tap.painted = Math.max(tap.painted, performance.now() - tapped); });
  }).observe(document, { childList: true, subtree: true, characterData: true, attributes: true });

  const begin = IDBDatabase.prototype.transaction;
  IDBDatabase.prototype.transaction = function (stores, mode, options) {
    const transaction = begin.call(this, stores, mode, options);
    const from = tapped;
    if (mode === "readwrite" && options?.durability === "strict" && [...transaction.objectStoreNames].includes("history"))
      transaction.addEventListener("complete", () => { tap.saved ??= performance.now() - from; });
    return transaction;
  };

  new PerformanceObserver((list) => { bench.lcp = list.getEntries().at(-1).startTime; })
    .observe({ type: "largest-contentful-paint", buffered: true });
  new PerformanceObserver((list) => {
    for (const { interactionId, duration } of list.getEntries()) if (interactionId) tap.painted = Math.max(tap.painted, duration);
  }).observe({ type: "event", durationThreshold: 16 });

  /** ms until `selector` is there and painted, from opening the page or from the last tap. */
  bench.shown = (selector, from) => new Promise((done) => {
    const look = () => {
      if (!document.querySelector(selector)) return false;
      watch.disconnect();
      painted(() => done(performance.now() - (from ?? tapped)));
      return true;
    };
    const watch = new MutationObserver(look);
    if (!look()) watch.observe(document, { childList: true, subtree: true });
  });
  bench.shown(".sync", 0).then((ms) => { bench.live = ms; });

  /** ms of a fixed piece of work, the best of five: what a page does most, so that machines can be compared. */
  bench.work = () => {
    const once = () => {
      const began = performance.now();
      const rows = Array.from({ length: 4000 }, (_, n) => ({ id: ((n * 7919) % 4000).toString(36), at: n, body: { total: n % 12 } }));
      const again = JSON.parse(JSON.stringify(rows)).sort((a, b) => (a.id < b.id ? -1 : 1));
      const table = new Map(again.map((row) => [row.id, row]));
      let sum = 0;
      for (const { id } of rows) sum += table.get(id).body.total;
      return performance.now() - began + 0 * sum;
    };
    return Math.min(...Array.from({ length: 5 }, once));
  };

  /** ms of each of `n` single rows written and complete, with nothing else to do: the floor under a tap. */
  bench.bare = async (n) => {
    const db = await new Promise((done) => {
      const open = indexedDB.open("bare");
      open.onupgradeneeded = () => open.result.createObjectStore("rows");
      open.onsuccess = () => done(open.result);
    });
    const taken = [];
    for (let i = 0; i < n; i++) {
      const began = performance.now();
      await new Promise((done) => {
        const transaction = db.transaction("rows", "readwrite", { durability: "strict" });
        transaction.objectStore("rows").put({ i }, i);
        transaction.oncomplete = done;
      });
      taken.push(performance.now() - began);
      await new Promise((done) => setTimeout(done, 60));
    }
    db.close();
    return taken;
  };

  /** How far the phone has come in the server's log, from its own database. */
  bench.cursor = () => new Promise((done) => {
    const open = indexedDB.open("plytide");
    open.onsuccess = () => {
      const get = open.result.transaction("meta").objectStore("meta").get("standing");
      get.onsuccess = () => { open.result.close(); done(get.result?.cursor); };
    };
  });
})();
