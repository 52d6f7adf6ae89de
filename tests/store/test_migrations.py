"""Migrations: they make the tables that the code has, and an older database comes through whole or stays as it was."""

import shutil
import sqlite3
from contextlib import closing
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from conftest import MakeEntry
from plytide.store import Store, StoreError, migrate, migrations
from sqlmodel import SQLModel

RELEASED = sorted((Path(__file__).parent / "released").glob("*.sql"))

# A next version that rebuilds the parent of everything, as SQLite needs for most changes of a table.
STEP = '''
import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    with op.batch_alter_table("logbook", recreate="always") as batch:
        batch.add_column(sa.Column("colour", sa.String))
    {more}
'''
HARMS = {
    "takes entries away": "op.execute(\"DELETE FROM entry WHERE kind = 'comfort'\")",
    "takes history away": 'op.execute("DELETE FROM history")',
    "changes what was typed": "op.execute(\"UPDATE entry SET doc = replace(doc, '7', '8')\")",
    "leaves rows that belong to nothing": 'op.execute("UPDATE link SET logbook_id = 1")',
    "fails half-way": 'op.execute("DELETE FROM history"); op.execute("nonsense")',
}


@pytest.fixture
def next_version(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> "NextVersion":
    return NextVersion(tmp_path / "migrations", monkeypatch)


class NextVersion:
    """Plytide with one more migration."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.folder, self.monkeypatch = folder, monkeypatch

    def install(self, more: str = "") -> None:
        shutil.copytree(Path(migrations.__file__).parent, self.folder)
        (self.folder / "versions" / "0002_next.py").write_text(STEP.format(more=more))
        self.monkeypatch.setattr(migrate, "SCRIPTS", str(self.folder))
        self.monkeypatch.setattr(migrate, "HEAD", "0002")


def filled(file: Path, make_entry: MakeEntry, now_ms: int) -> list[str]:
    """A database of the present version with entries, history and a link; what it holds."""
    with Store.open(f"sqlite:///{file}") as store:
        logbook = store.create_logbook("Ada")
        sent = [make_entry() for _ in range(20)]
        store.sync(logbook, None, 0, [*sent, *({**e, "stamp": e["stamp"][:-8] + "ffffffff"} for e in sent[:5])], now_ms)
        return held(store)


def held(store: Store) -> list[str]:
    return sorted(entry.as_json() for row in store.logbooks() for entry in store.all_versions(row.id))


def test_the_migrations_make_the_tables_of_the_code(either_store: Store) -> None:
    with either_store.db.read() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True, "compare_server_default": True})
        assert compare_metadata(context, SQLModel.metadata) == []


def test_the_newest_migration_is_the_one_that_the_code_asks_for() -> None:
    config = Config()
    config.set_main_option("script_location", migrate.SCRIPTS)
    assert ScriptDirectory.from_config(config).get_heads() == [migrate.HEAD]


def test_no_table_lets_a_deletion_spread() -> None:
    keys = [key for table in SQLModel.metadata.tables.values() for key in table.foreign_keys]
    assert len(keys) >= 12
    assert {(key.ondelete, key.onupdate) for key in keys} == {(None, None)}


@pytest.mark.parametrize("dump", RELEASED, ids=lambda path: path.stem)
def test_a_database_of_every_released_version_comes_through(tmp_path: Path, dump: Path) -> None:
    with closing(sqlite3.connect(tmp_path / "plytide.db")) as connection:
        connection.executescript(dump.read_text())
        tables = ("logbook", "entry", "history")
        before = [connection.execute(f"SELECT count(*) FROM {t}").fetchone()[0] for t in tables]
        docs = sorted(r[0] for t in ("entry", "history") for r in connection.execute(f"SELECT doc FROM {t}"))
    assert min(before) > 0
    with Store.open(f"sqlite:///{tmp_path / 'plytide.db'}") as store:
        census = store.check()
        assert [census.logbooks, census.entries, census.versions] == before
        assert held(store) == docs


def test_there_is_a_database_of_every_released_version() -> None:
    assert [path.stem for path in RELEASED] == [f"{n:04d}" for n in range(1, int(migrate.HEAD) + 1)]


def test_rebuilding_the_parent_of_all_tables_keeps_every_child(
    tmp_path: Path, make_entry: MakeEntry, now_ms: int, next_version: NextVersion
) -> None:
    file = tmp_path / "plytide.db"
    before = filled(file, make_entry, now_ms)
    next_version.install()
    with Store.open(f"sqlite:///{file}") as store:
        assert held(store) == before
        with store.db.read() as connection:
            assert connection.exec_driver_sql("SELECT colour FROM logbook").all() == [(None,)]
            assert connection.exec_driver_sql("PRAGMA foreign_keys").scalar() == 1, "on again, for everybody else"
    Store.open(f"sqlite:///{file}").close()


def test_a_copy_from_before_is_left_beside_it(
    tmp_path: Path, make_entry: MakeEntry, now_ms: int, next_version: NextVersion
) -> None:
    before = filled(tmp_path / "plytide.db", make_entry, now_ms)
    next_version.install()
    Store.open(f"sqlite:///{tmp_path / 'plytide.db'}").close()
    next_version.monkeypatch.undo()
    (tmp_path / "plytide.db.before-0002").rename(tmp_path / "back.db")
    with Store.open(f"sqlite:///{tmp_path / 'back.db'}") as store:
        assert held(store) == before


@pytest.mark.parametrize("harm", HARMS)
def test_a_migration_that_would_do_harm_is_undone_whole(
    tmp_path: Path, make_entry: MakeEntry, now_ms: int, next_version: NextVersion, harm: str
) -> None:
    file = tmp_path / "plytide.db"
    before = filled(file, make_entry, now_ms)
    with Store.open(f"sqlite:///{file}") as store, store.db.write() as connection:
        connection.exec_driver_sql("INSERT INTO link SELECT 'x', id, 'x', '{}', '', '', 0, NULL, NULL FROM logbook")
    next_version.install(HARMS[harm])
    with pytest.raises(StoreError, match="left as it was"):
        Store.open(f"sqlite:///{file}")
    next_version.monkeypatch.undo()
    with Store.open(f"sqlite:///{file}") as store:
        assert held(store) == before
        with store.db.read() as connection:
            columns = {row[1] for row in connection.exec_driver_sql("PRAGMA table_info(logbook)")}
        assert "colour" not in columns


def test_with_foreign_keys_on_the_same_step_would_fail_or_take_children(
    tmp_path: Path, make_entry: MakeEntry, now_ms: int
) -> None:
    # Why migrate.py turns them off: dropping a parent deletes its rows first (SQLite documentation, foreign keys, 5)
    filled(tmp_path / "plytide.db", make_entry, now_ms)
    with closing(sqlite3.connect(tmp_path / "plytide.db", isolation_level=None)) as connection:
        connection.execute("PRAGMA foreign_keys=ON")
        with pytest.raises(sqlite3.IntegrityError):
            connection.execute("DROP TABLE logbook")


def test_a_database_of_a_later_version_is_refused_and_left_alone(
    tmp_path: Path, make_entry: MakeEntry, now_ms: int
) -> None:
    file = tmp_path / "plytide.db"
    filled(file, make_entry, now_ms)
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '0999'")
        connection.commit()
    before = file.read_bytes()
    with pytest.raises(StoreError, match="newer Plytide"):
        Store.open(f"sqlite:///{file}")
    assert file.read_bytes() == before


def test_two_processes_that_open_a_new_database_at_once_make_it_once(pg_database: str, tmp_path: Path) -> None:
    import threading

    for url in (pg_database, f"sqlite:///{tmp_path / 'plytide.db'}"):
        failed: list[BaseException] = []

        def visit(url: str = url, failed: list[BaseException] = failed) -> None:
            try:
                Store.open(url).close()
            except BaseException as error:
                failed.append(error)

        threads = [threading.Thread(target=visit) for _ in range(4)]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
        assert failed == []
