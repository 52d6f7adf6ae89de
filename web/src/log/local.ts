// Reading and writing the log in the phone's database. Each function is one transaction; what it promises is true when
// it resolves, which is when the transaction is complete and not before.
import { byBlock, makeBlock, mergeBlock, STANDING, type Block } from "./blocks";
import { use, type Db } from "./db";
import type { Entry } from "./kinds";
import { acknowledge, type Answer, type Row } from "./outbox";
import type { Summary } from "./summary";

/** A block that has to be sent whole: after pairing, after a restore of the server. `sent`: entries already taken. */
export type Resend = { key: string; n: number; sent: number };

/** Where this phone stands with its server. Times in ms since 1970, server's clock unless named otherwise. */
export type Standing = {
  logbook: string | null; // null: never paired
  epoch: string | null;
  cursor: number;
  lastSync: number | null; // phone's clock
  resend: Resend[];
};
export const ALONE: Standing = { logbook: null, epoch: null, cursor: 0, lastSync: null, resend: [] };

export const readMeta = async <T>(key: string): Promise<T | undefined> => use(async (db) => (await db.get("meta", key)) as T | undefined);
export const writeMeta = (key: string, value: unknown): Promise<unknown> => use((db) => db.put("meta", value, key));

export type Loaded = { rows: Row[]; blocks: Block[]; standing: Standing; summary: Summary | null };

/** What the first screen needs: the outbox, and the blocks that reach into the time since `from` (RFC 3339). */
export const load = (from: string): Promise<Loaded> =>
  use(async (db) => {
    const tx = db.transaction(["outbox", "blocks", "meta"]);
    const meta = tx.objectStore("meta");
    const [rows, blocks, standing, summary] = await Promise.all([
      tx.objectStore("outbox").getAll(),
      tx.objectStore("blocks").index("span").getAll(IDBKeyRange.lowerBound([from])),
      meta.get("standing"),
      meta.get("summary"),
    ]);
    return loaded(rows, blocks, standing, summary);
  });

export const loadRows = (): Promise<Row[]> => use((db) => db.getAll("outbox"));

/** What another tab or a sync may have changed: the outbox, these blocks, where the phone stands, the summary. */
export const reload = (keys: readonly string[]): Promise<Loaded> =>
  use(async (db) => {
    const tx = db.transaction(["outbox", "blocks", "meta"]);
    const [rows, standing, summary, ...blocks] = await Promise.all([
      tx.objectStore("outbox").getAll(),
      tx.objectStore("meta").get("standing"),
      tx.objectStore("meta").get("summary"),
      ...keys.map((key) => tx.objectStore("blocks").get(key)),
    ]);
    return loaded(rows, blocks.filter((block) => block !== undefined), standing, summary);
  });

const loaded = (rows: Row[], blocks: Block[], standing: unknown, summary: unknown): Loaded => ({
  rows, blocks, standing: { ...ALONE, ...(standing as Standing | undefined) }, summary: (summary as Summary | undefined) ?? null,
});

/** Entries at rest that may lie between two times. */
export const loadSpan = (from: string, to: string): Promise<Entry[]> =>
  use(async (db) => {
    const tx = db.transaction("blocks");
    const keys: string[] = [];
    for (let cursor = await tx.store.index("span").openKeyCursor(IDBKeyRange.lowerBound([from])); cursor; cursor = await cursor.continue())
      if (cursor.key[1] <= to) keys.push(cursor.primaryKey);
    const blocks = await Promise.all(keys.map((key) => tx.store.get(key)));
    return blocks.flatMap((block) => block?.entries ?? []);
  });

/** Keeps a version in the outbox. `replaced`, when the wearer changed an entry, goes to the history. The tap's own path. */
export const saveRow = (row: Row, replaced?: Entry): Promise<void> =>
  use(async (db) => {
    const tx = db.transaction(["outbox", "history"], "readwrite", { durability: "strict" });
    void tx.objectStore("outbox").put(row).catch(() => {}); // the transaction's end is what counts
    if (replaced) void tx.objectStore("history").put(replaced, [replaced.id, replaced.stamp]).catch(() => {});
    await tx.done;
  });

/** Earlier versions of an entry as this phone replaced them, oldest first. */
export const loadHistory = (id: string): Promise<Entry[]> =>
  use((db) => db.getAll("history", IDBKeyRange.bound([id, ""], [id, "~"])));

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
      for (const { id } of entries) {
        const answer = by.get(id);
        if (!answer) continue;
        const row = await outbox.get(id);
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

/** Takes a page of the server's log with its cursor; resolves to the keys of the blocks that changed. One transaction. */
export const takePage = (entries: Entry[], standing: Standing): Promise<string[]> =>
  use(async (db) => {
    const tx = db.transaction(["blocks", "meta", "history"], "readwrite");
    const blocks = tx.objectStore("blocks");
    const groups = byBlock(entries);
    const unsent = new Set(standing.resend.map((part) => part.key));
    for (const [key, group] of groups) {
      const block = await blocks.get(key);
      const merged = mergeBlock(key, block, group);
      if (unsent.has(key)) await keepReplaced(tx.objectStore("history"), block, merged);
      void blocks.put(merged);
    }
    void tx.objectStore("meta").put(standing, "standing");
    await tx.done;
    return [...groups.keys()];
  });

/** A version that was at rest but never reached the server is kept when another device's version replaces it. */
async function keepReplaced(history: { put: (entry: Entry, key: [string, string]) => Promise<unknown> }, before: Block | undefined, after: Block): Promise<void> {
  const now = new Map(after.entries.map((entry) => [entry.id, entry.stamp]));
  for (const entry of before?.entries ?? []) if (now.get(entry.id) !== entry.stamp) await history.put(entry, [entry.id, entry.stamp]);
}

/** Moves rows from the outbox to rest, to be sent with their blocks: a long outbox would slow every start. */
export const putToRest = (rows: Row[], standing: Standing): Promise<Standing> =>
  use(async (db) => {
    const tx = db.transaction(["outbox", "blocks", "meta"], "readwrite", { durability: "strict" });
    const resend = new Map(standing.resend.map((part) => [part.key, part]));
    for (const [key, entries] of byBlock(rows.map((row) => row.entry))) {
      const block = mergeBlock(key, await tx.objectStore("blocks").get(key), entries);
      void tx.objectStore("blocks").put(block);
      resend.set(key, { key, n: block.entries.length, sent: 0 });
      for (const { id } of entries) void tx.objectStore("outbox").delete(id);
    }
    const next = { ...standing, resend: [...resend.values()] };
    void tx.objectStore("meta").put(next, "standing");
    await tx.done;
    return next;
  });

/** Everything has to be sent again, from the start: a new pairing, or a server that was restored from a backup. */
export const sendAllAgain = (standing: Standing): Promise<Standing> =>
  use(async (db) => {
    const tx = db.transaction(["blocks", "meta"], "readwrite");
    const resend: Resend[] = [];
    for (let cursor = await tx.objectStore("blocks").openCursor(); cursor; cursor = await cursor.continue())
      resend.push({ key: cursor.value.key, n: cursor.value.entries.length, sent: 0 });
    const standingFirst = resend.sort((a, b) => Number(b.key === STANDING) - Number(a.key === STANDING));
    const next = { ...standing, cursor: 0, resend: standingFirst };
    void tx.objectStore("meta").put(next, "standing");
    await tx.done;
    return next;
  });

export const loadBlocks = (keys: string[]): Promise<Block[]> =>
  use(async (db: Db) => {
    const tx = db.transaction("blocks");
    const found = await Promise.all(keys.map((key) => tx.store.get(key)));
    return found.filter((block) => block !== undefined);
  });
