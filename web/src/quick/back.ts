// Where the small forms lead back to.
import { href } from "../nav";
import { t } from "../words";

export const BACK = (): { href: string; name: string } => ({ href: href("log"), name: t("quick.title") });
