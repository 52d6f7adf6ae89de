// Every screen that does not stand at the foot of each, in four groups, from the one table of screens.
import { attention } from "../log/book";
import { href } from "../nav";
import { Page } from "../parts/Page";
import { Row, Rows } from "../parts/rows";
import { WaysOn } from "../parts/WaysOn";
import { t, type Key } from "../words";
import { SCREENS, type Screen } from "./table";

const GROUPS = ["log", "clinic", "read", "phone"] as const;

export function More() {
  return (
    <Page title={t("more.title")} back={{ href: "#/today", name: t("common.today") }} touch={<WaysOn current="more" />}>
      {GROUPS.map((group) => {
        const screens = SCREENS.filter((screen) => screen.more?.group === group);
        return screens.length > 0 && (
          <section key={group} class="field">
            <h2>{t(`more.${group}`)}</h2>
            <Rows>{screens.map((screen) => <Row key={screen.path} href={href(screen.path)} icon={screen.more!.icon} small={small(screen)}>{t(`more.${screen.path}` as Key)}</Row>)}</Rows>
          </section>
        );
      })}
    </Page>
  );
}

function small({ path }: Screen): string {
  if (path === "attention") return attention.value.length ? t("common.refused", { n: attention.value.length }) : t("more.attention_none");
  return t(`more.${path}_small` as Key);
}
