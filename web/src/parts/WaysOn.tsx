// The ways on from the screens that are read: back to Today, and the things most often wanted next.
import { href } from "../nav";
import { Quick } from "./Page";
import { t } from "../words";

export const WaysOn = ({ current }: { current: string }) => (
  <Quick label={t("today.ways")} items={[
    { name: t("common.today"), icon: "level", href: href("today") },
    { name: t("today.sore"), icon: "spot", href: href("sore") },
    { name: t("today.skin"), icon: "mirror", href: href("skin") },
    { name: t("today.more"), icon: "more", href: href("more"), current: current === "more" },
  ]} />
);
