// The one way to the phone's database. Phones close a database under a page's feet (after long sleep, on eviction), so
// every use goes through `use`, which opens it again and tries once more before it gives up.
import { openDB, wrap, type DBSchema, type IDBPDatabase } from "idb";
import type { Block } from "./blocks";
import type { Entry } from "./kinds";
import type { Row } from "./outbox";

export interface Schema extends DBSchema {
  /** What the server has not acknowledged: the newest version of each entry, one row an entry. */
  outbox: { key: string; value: Row };
  /** The log at rest. The index lets a span of time find its blocks without reading them. */
  blocks: { key: string; value: Block; indexes: { span: [string, string] } };
  /** Versions that were replaced on this phone: nothing a person typed is destroyed. */
  history: { key: [string, string]; value: Entry };
  meta: { key: string; value: unknown };
}
export type Db = IDBPDatabase<Schema>;

export const NAME = "plytide";
const VERSION = 1;

/** Told when another tab holds an older version of the database open, and again (false) when it let go. */
export const onBlocked: { tell: (blocked: boolean) => void } = { tell: () => {} };

declare global {
  var plytideDb: IDBOpenDBRequest | undefined;
}

let opened: Promise<Db> | undefined;
let here: Db | undefined; // the same, once it is open

/** The open database. Every call answers the same one until it closes. */
export function getDb(): Promise<Db> {
  opened ??= open().catch((error: unknown) => {
    opened = undefined;
    throw error;
  });
  return opened;
}

async function open(): Promise<Db> {
  here = (await begun()) ?? (await openWhole());
  here.addEventListener("versionchange", () => { // a newer page wants to upgrade: stand aside, and open again at the next use
    here?.close();
    forget();
  });
  here.addEventListener("close", forget);
  onBlocked.tell(false);
  return here;
}

/** The connection that first.ts asked for before this script was there, if it is to this version. */
async function begun(): Promise<Db | undefined> {
  const asked = globalThis.plytideDb;
  globalThis.plytideDb = undefined;
  if (asked?.readyState === "pending") await wrap(asked).catch(() => {}); // it failed, or there is none yet
  const early = !asked || asked.error ? undefined : (wrap(asked.result) as unknown as Db);
  if (early?.version === VERSION) return early;
  early?.close();
  return undefined;
}

async function openWhole(): Promise<Db> {
  let slow: ReturnType<typeof setTimeout> | undefined;
  const db = await openDB<Schema>(NAME, VERSION, {
    upgrade(db) {
      db.createObjectStore("outbox", { keyPath: "entry.id" });
      db.createObjectStore("blocks", { keyPath: "key" }).createIndex("span", ["to", "from"]);
      db.createObjectStore("history");
      db.createObjectStore("meta");
    },
    blocked() {
      slow = setTimeout(() => onBlocked.tell(true), 2000);
    },
  });
  clearTimeout(slow);
  return db;
}

/** The connection is gone: the next use opens another. */
export function forget(): void {
  opened = here = undefined;
}

/** Runs `work` on the database; when the connection turns out to be dead, opens it again and runs it once more. */
export async function use<T>(work: (db: Db) => Promise<T>): Promise<T> {
  const db = here ?? (await getDb()); // once open, at once: what a tap writes is on its way before anything is worked out anew
  try {
    return await work(db);
  } catch (error) {
    if (!isDead(error)) throw error;
    forget();
    try {
      db.close();
    } catch {
      // it was closed already, which is why we are here
    }
    return work(await getDb());
  }
}

const isDead = (error: unknown): boolean =>
  error instanceof DOMException && ["InvalidStateError", "UnknownError", "AbortError"].includes(error.name);
