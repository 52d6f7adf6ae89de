// Reading and writing the log in the phone's database. Each function is one transaction; what it promises is true when
// it resolves, which is when the transaction is complete and not before.
import type { Block } from "./blocks";
import { use } from "./db";
import type { Entry } from "./kinds";
import type { Row } from "./outbox";
import type { DaySummary, Summary } from "./summary";

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

/** Where the phone stands now; `reads` is the meta store of a transaction. */
export const standingIn = async (reads: { get(key: string): Promise<unknown> }): Promise<Standing> => ({ ...ALONE, ...((await reads.get("standing")) as Standing | undefined) });
export const readStanding = (): Promise<Standing> => use((db) => standingIn(db.transaction("meta").store));
export const readMeta = async <T>(key: string): Promise<T | undefined> => use(async (db) => (await db.get("meta", key)) as T | undefined);
export const writeMeta = (key: string, value: unknown): Promise<unknown> => use((db) => db.put("meta", value, key));

export type Loaded = { rows: Row[]; blocks: Block[]; standing: Standing; summary: Summary | null };

/** What the first screen needs: the outbox, and the blocks that reach into the time since `since(newest)` (RFC 3339), of the newest at rest. */
export const load = (since: (newest: string | undefined) => string): Promise<Loaded> =>
  use(async (db) => {
    const tx = db.transaction(["outbox", "blocks", "meta"]);
    const meta = tx.objectStore("meta");
    const span = tx.objectStore("blocks").index("span");
    const from = since(undefined);
    const [newest, rows, latest, standing, summary] = await Promise.all([
      span.openKeyCursor(IDBKeyRange.upperBound(["9"]), "prev"), // below the block that always stands
      tx.objectStore("outbox").getAll(),
      span.getAll(IDBKeyRange.lowerBound([from])), // nearly always the log goes up to now: asked for along with the rest
      meta.get("standing"),
      meta.get("summary"),
    ]);
    const earlier = since(newest?.key[0]);
    const blocks = earlier < from ? await span.getAll(IDBKeyRange.lowerBound([earlier])) : latest;
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

/** A summary as it lies on the disk: its `days` as text by side, read when they are wanted. Today wants none of them, and
 *  ten years of them take longer to bring in than all the rest. */
export type KeptSummary = Summary & { days?: Record<string, string> };

function unpacked(kept: KeptSummary | undefined): Summary | null {
  for (const [side, text] of Object.entries(kept?.days ?? {})) {
    let days: DaySummary[] | undefined;
    Object.defineProperty(kept!.limbs[side], "days", { enumerable: true, get: () => (days ??= JSON.parse(text) as DaySummary[]) });
  }
  return kept ?? null;
}

const loaded = (rows: Row[], blocks: Block[], standing: unknown, summary: unknown): Loaded => ({
  rows, blocks, standing: { ...ALONE, ...(standing as Standing | undefined) }, summary: unpacked(summary as KeptSummary | undefined),
});

/** Keeps a version in the outbox. `replaced`, when the wearer changed an entry, goes to the history. The tap's own path. */
export const saveRow = (row: Row, replaced?: Entry): Promise<void> =>
  use(async (db) => {
    const tx = db.transaction(["outbox", "history"], "readwrite", { durability: "strict" });
    void tx.objectStore("outbox").put(row).catch(() => {}); // the transaction's end is what counts
    if (replaced) void tx.objectStore("history").put(replaced, [replaced.id, replaced.stamp]).catch(() => {});
    await tx.done;
  });
