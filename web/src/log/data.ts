// The wearer's data is the wearer's: out as a file, in again, erased here or on the server, and what was done with it.
import { deleteDB } from "idb";
import { forget, getDb, NAME } from "./db";
import { entriesBetween } from "./past";
import { ask, PairingFailed } from "./pairing";
import { sync } from "./sync";

export const FORMATS = ["jsonl", "csv", "dictionary", "fhir"] as const;
export type Format = (typeof FORMATS)[number];

/** Where the server's file of this form is. */
export const exportOf = (format: Format): string => `/api/export?format=${format}`;

/** What this phone holds, as JSON Lines: the form that a server takes back. Erased entries are in it as well. */
export async function phoneFile(): Promise<Blob> {
  const all = await entriesBetween("0000", "9999", true);
  return new Blob(all.map((entry) => JSON.stringify(entry) + "\n"), { type: "application/jsonl" });
}

/** What became of an import; refusals name the line and the reason. */
export type Taken = { taken: number; known: number; refused: number; refusals: { line: number; code: string; why: string }[] };

/** Sends a file of JSON Lines to the server, then fetches what is new. */
export async function bringIn(file: Blob): Promise<Taken> {
  let response: Response;
  try {
    response = await fetch("/api/import", { method: "POST", body: file, headers: { "content-type": "application/jsonl" } });
  } catch {
    throw new PairingFailed("offline", "", null);
  }
  const answer = (await response.json()) as Taken & { code?: string; why?: string };
  if (!response.ok) throw new PairingFailed(answer.code ?? "later", answer.why ?? "", null);
  void sync();
  return answer;
}

export type AuditLine = { at: string; code: string; words: string };

/** What was done with the logbook on the server, latest first. */
export const audit = async (): Promise<AuditLine[]> => (await ask<{ lines: AuditLine[] }>("GET", "/api/audit")).lines;

/** Erases the logbook on the server: entries, history, devices, links. This phone keeps its own until it is erased too. */
export const eraseThere = (): Promise<unknown> => ask("DELETE", "/api/logbook");

/** Erases everything on this phone and begins anew; other tabs let go of the database. */
export async function eraseHere(): Promise<void> {
  (await getDb()).close();
  forget();
  await deleteDB(NAME);
  localStorage.clear();
  location.hash = "";
  location.reload();
}

/** The calendar's secret address; the same each time until it is ended. */
export const calendarAddress = async (): Promise<string> => (await ask<{ url: string }>("POST", "/api/calendar")).url;
export const endCalendar = (): Promise<unknown> => ask("DELETE", "/api/calendar");
