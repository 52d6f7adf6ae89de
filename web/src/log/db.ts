// The one way to the phone's database. Phones close a database under a page's feet (after long sleep, on eviction), so
// every use goes through `use`, which opens it again and tries once more before it gives up.
import { deleteDB, openDB, type DBSchema, type IDBPDatabase } from "idb";
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

const NAME = "plytide";
const VERSION = 1;

/** Told when another tab holds an older version of the database open, and again (false) when it let go. */
export const onBlocked: { tell: (blocked: boolean) => void } = { tell: () => {} };

let opened: Promise<Db> | undefined;

/** The open database. Every call answers the same one until it closes. */
export function getDb(): Promise<Db> {
  opened ??= open().catch((error: unknown) => {
    opened = undefined;
    throw error;
  });
  return opened;
}

async function open(): Promise<Db> {
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
    blocking(_current, _next, event) {
      forget(); // a newer page wants to upgrade: stand aside, and open again at the next use
      (event.target as IDBDatabase).close();
    },
    terminated: forget,
  });
  clearTimeout(slow);
  onBlocked.tell(false);
  return db;
}

function forget(): void {
  opened = undefined;
}

/** Deletes the phone's database for good; other tabs let go of theirs. */
export async function eraseDatabase(): Promise<void> {
  (await getDb()).close();
  forget();
  await deleteDB(NAME);
}

/** Runs `work` on the database; when the connection turns out to be dead, opens it again and runs it once more. */
export async function use<T>(work: (db: Db) => Promise<T>): Promise<T> {
  const db = await getDb();
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
