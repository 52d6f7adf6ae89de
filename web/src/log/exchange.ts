// What an exchange with the server writes into the phone's database. Each function is one transaction, like those of
// local.ts; it is apart from them because the first screen does not need it.
import { byBlock, makeBlock, mergeBlock, STANDING, type Block } from "./blocks";
import { use } from "./db";
import type { Entry } from "./kinds";
import { standingIn, writeMeta, type KeptSummary, type Resend, type Standing } from "./local";
import type { LimbSummary, Summary } from "./summary";
import { acknowledge, type Answer, type Row } from "./outbox";

/** Takes the server's answers; resolves to the keys of the blocks that changed. One transaction. */
export const takeAnswers = (answers: Answer[], sent: Entry[]): Promise<string[]> =>
  use(async (db) => {
    const tx = db.transaction(["outbox", "blocks"], "readwrite", { durability: "strict" });
    const outbox = tx.objectStore("outbox");
    const blocks = tx.objectStore("blocks");
    const by = new Map(answers.map((answer) => [answer.id, answer]));
    const groups = byBlock(sent);
    for (const [key, entries] of groups) {
      const block = await blocks.get(key);
      const table = new Map(block?.entries.map((entry) => [entry.id, entry]));
      for (const entry of entries) {
        const { id } = entry;
        const answer = by.get(id);
        if (!answer) continue;
        const row = (await outbox.get(id)) ?? { entry, refused: null }; // one that could not be saved was sent from memory
        const kept = acknowledge({ held: table.get(id), row }, answer);
        if (kept.held) table.set(id, kept.held);
        if (!kept.row) void outbox.delete(id);
        else if (kept.row !== row) void outbox.put(kept.row);
      }
      void blocks.put(makeBlock(key, table.values()));
    }
    await tx.done;
    return [...groups.keys()];
  });

/**
 * Takes a page of the server's log, and `change`s where the phone stands (its cursor above all) in the same transaction;
 * resolves to the keys of the blocks that changed.
 */
export const takePage = (entries: Entry[], change: (now: Standing) => Standing): Promise<string[]> =>
  use(async (db) => {
    const tx = db.transaction(["blocks", "meta", "history"], "readwrite");
    const blocks = tx.objectStore("blocks");
    const standing = await standingIn(tx.objectStore("meta")); // another tab may have moved it since the request began
    const groups = byBlock(entries);
    const unsent = new Set(standing.resend.map((part) => part.key));
    for (const [key, group] of groups) {
      const block = await blocks.get(key);
      const merged = mergeBlock(key, block, group);
      if (unsent.has(key)) await keepReplaced(tx.objectStore("history"), block, merged);
      void blocks.put(merged);
    }
    void tx.objectStore("meta").put(change(standing), "standing");
    await tx.done;
    return [...groups.keys()];
  });

/** A version that was at rest but never reached the server is kept when another device's version replaces it. */
async function keepReplaced(history: { put: (entry: Entry, key: [string, string]) => Promise<unknown> }, before: Block | undefined, after: Block): Promise<void> {
  const now = new Map(after.entries.map((entry) => [entry.id, entry.stamp]));
  for (const entry of before?.entries ?? []) if (now.get(entry.id) !== entry.stamp) await history.put(entry, [entry.id, entry.stamp]);
}

/** Moves rows from the outbox to rest, to be sent with their blocks: a long outbox would slow every start. Resolves to those blocks' keys. */
export const putToRest = (rows: Row[]): Promise<string[]> =>
  use(async (db) => {
    const tx = db.transaction(["outbox", "blocks", "meta"], "readwrite", { durability: "strict" });
    const outbox = tx.objectStore("outbox");
    const standing = await standingIn(tx.objectStore("meta"));
    const resend = new Map(standing.resend.map((part) => [part.key, part]));
    for (const [key, entries] of byBlock(rows.map((row) => row.entry))) {
      const block = mergeBlock(key, await tx.objectStore("blocks").get(key), entries);
      void tx.objectStore("blocks").put(block);
      resend.set(key, { key, n: block.entries.length, sent: 0 });
      for (const { id, stamp } of entries) if ((await outbox.get(id))?.entry.stamp === stamp) void outbox.delete(id);
    }
    void tx.objectStore("meta").put({ ...standing, resend: [...resend.values()] }, "standing");
    await tx.done;
    return [...resend.keys()];
  });

/** Everything has to be sent again, from the start: a new pairing, or a server that was restored from a backup. */
export const sendAllAgain = (change: Partial<Standing>): Promise<Standing> =>
  use(async (db) => {
    const tx = db.transaction(["blocks", "meta"], "readwrite");
    const resend: Resend[] = [];
    for (let cursor = await tx.objectStore("blocks").openCursor(); cursor; cursor = await cursor.continue())
      resend.push({ key: cursor.value.key, n: cursor.value.entries.length, sent: 0 });
    resend.sort((a, b) => Number(b.key === STANDING) - Number(a.key === STANDING)); // the profile first
    const next = { ...(await standingIn(tx.objectStore("meta"))), ...change, cursor: 0, resend };
    void tx.objectStore("meta").put(next, "standing");
    await tx.done;
    return next;
  });

/** Keeps the server's reading, its days as text. */
export function keepSummary(summary: Summary): Promise<unknown> {
  const kept: KeptSummary = { ...summary, limbs: {}, days: {} };
  for (const [side, { days, ...limb }] of Object.entries(summary.limbs)) {
    kept.limbs[side] = limb as LimbSummary;
    kept.days![side] = JSON.stringify(days);
  }
  return writeMeta("summary", kept);
}

/** These blocks, as far as they are there. */
export const loadBlocks = (keys: string[]): Promise<Block[]> =>
  use(async (db) => {
    const tx = db.transaction("blocks");
    const found = await Promise.all(keys.map((key) => tx.store.get(key)));
    return found.filter((block) => block !== undefined);
  });
