// Times as a date-and-time field holds them, in the zone an entry was made in.
import { wall } from "./log/clock";

/** The value of an <input type="datetime-local"> for an instant in a zone, and back (`near` settles the double hour). */
export function toInput(at: string, zone: string): string {
  const { year, month, day, hour, minute } = wall(at, zone);
  const two = (n: number) => String(n).padStart(2, "0");
  return `${year}-${two(month)}-${two(day)}T${two(hour)}:${two(minute)}`;
}

export function fromInput(value: string, zone: string): string | null {
  const found = /^(\d{4})-(\d\d)-(\d\d)T(\d\d):(\d\d)/.exec(value);
  if (!found) return null;
  const [year, month, day, hour, minute] = found.slice(1).map(Number) as [number, number, number, number, number];
  const wanted = Date.UTC(year, month - 1, day, hour, minute);
  let guess = wanted;
  // Two rounds: the first finds the offset near that time, the second corrects across a change of the clocks.
  for (let round = 0; round < 2; round++) {
    const seen = wall(guess, zone);
    guess += wanted - Date.UTC(seen.year, seen.month - 1, seen.day, seen.hour, seen.minute);
  }
  return new Date(guess).toISOString();
}
