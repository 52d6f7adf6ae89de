// UUID version 7 (RFC 9562, 5.7): 48 bits of milliseconds, then random; ids sort by the time they were made.

/** The UUIDv7 of `ms` (since 1970) and ten bytes of randomness, of which 74 bits are used. */
export function uuid7(ms: number, random: Uint8Array = crypto.getRandomValues(new Uint8Array(10))): string {
  const bytes = new Uint8Array(16);
  for (let i = 0; i < 6; i++) bytes[i] = Math.floor(ms / 2 ** (8 * (5 - i))) % 256;
  bytes.set(random.subarray(0, 10), 6);
  bytes[6] = 0x70 | (bytes[6]! & 0x0f);
  bytes[8] = 0x80 | (bytes[8]! & 0x3f);
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [hex.slice(0, 8), hex.slice(8, 12), hex.slice(12, 16), hex.slice(16, 20), hex.slice(20)].join("-");
}

/** When a version 7 id was made, in ms since 1970; null for ids of other versions. */
export const uuidTime = (id: string): number | null => (id[14] === "7" ? parseInt(id.slice(0, 8) + id.slice(9, 13), 16) : null);
