// Changing the wearer's settings: one entry of kind `profile`, changed in place, saved at each change.
import { amend, profile, write } from "./log/book";
import type { ProfileBody } from "./log/kinds";

/** Saves a change to the profile. What was never set stays unset, so that defaults can still follow the clinics'. */
export function setProfile(change: Partial<ProfileBody>): void {
  const standing = profile.value;
  const saved = standing ? amend(standing, { body: { ...standing.body, ...change } }) : write("profile", null, change);
  saved.catch(() => {}); // the saving state tells; the change is on screen either way
}
