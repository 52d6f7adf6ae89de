"""The tables of the first release."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def upgrade() -> None:
    text, whole = sa.String, sa.BigInteger

    def owner(**more: bool) -> sa.Column[str]:
        return sa.Column("logbook_id", text, sa.ForeignKey("logbook.id"), nullable=False, **more)  # type: ignore[arg-type]

    op.create_table(
        "logbook",
        sa.Column("id", text, primary_key=True),
        sa.Column("name", text, nullable=False),
        sa.Column("epoch", text, nullable=False),
        sa.Column("seq", whole, nullable=False),
        sa.Column("made_at", text, nullable=False),
    )
    op.create_table(
        "entry",
        owner(primary_key=True),
        sa.Column("id", text, primary_key=True),
        sa.Column("seq", whole, nullable=False),
        sa.Column("kind", text, nullable=False),
        sa.Column("limb", text),
        sa.Column("at", text, nullable=False),
        sa.Column("stamp", text, nullable=False),
        sa.Column("erased", sa.Boolean, nullable=False),
        sa.Column("doc", text, nullable=False),
        sqlite_with_rowid=False,
    )
    op.create_index("entry_seq", "entry", ["logbook_id", "seq"], unique=True)
    op.create_table(
        "history",
        owner(primary_key=True),
        sa.Column("id", text, primary_key=True),
        sa.Column("stamp", text, primary_key=True),
        sa.Column("doc", text, nullable=False),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "restamp",
        owner(primary_key=True),
        sa.Column("id", text, primary_key=True),
        sa.Column("sent", text, primary_key=True),
        sa.Column("stamp", text, nullable=False),
        sqlite_with_rowid=False,
    )
    op.create_table(
        "summary",
        owner(primary_key=True),
        sa.Column("seq", whole, nullable=False),
        sa.Column("made_at", text, nullable=False),
        sa.Column("doc", text, nullable=False),
    )
    op.create_table(
        "device",
        sa.Column("id", text, primary_key=True),
        owner(),
        sa.Column("name", text, nullable=False),
        sa.Column("made_at", text, nullable=False),
        sa.Column("seen_at", text, nullable=False),
        sa.Column("token_hash", text, nullable=False, unique=True),
        sa.Column("rotated_at", text, nullable=False),
        sa.Column("next_hash", text),
        sa.Column("old_hash", text),
        sa.Column("old_until", text),
        sa.Column("revoked_at", text),
    )
    op.create_table(
        "pair_code",
        sa.Column("code_hash", text, primary_key=True),
        owner(),
        sa.Column("expires", text, nullable=False),
        sa.Column("tries", sa.Integer, nullable=False),
        sa.Column("used_at", text),
    )
    op.create_table(
        "link",
        sa.Column("id", text, primary_key=True),
        owner(),
        sa.Column("token_hash", text, nullable=False, unique=True),
        sa.Column("spec", text, nullable=False),
        sa.Column("made_at", text, nullable=False),
        sa.Column("expires", text, nullable=False),
        sa.Column("tries", sa.Integer, nullable=False),
        sa.Column("revoked_at", text),
        sa.Column("snapshot", text),
    )
    op.create_table(
        "link_opening",
        sa.Column("n", sa.Integer, primary_key=True),
        owner(),
        sa.Column("link_id", text, sa.ForeignKey("link.id"), nullable=False),
        sa.Column("at", text, nullable=False),
        sa.Column("result", text, nullable=False),
    )
    op.create_table(
        "link_session",
        sa.Column("session_hash", text, primary_key=True),
        owner(),
        sa.Column("link_id", text, sa.ForeignKey("link.id"), nullable=False),
        sa.Column("expires", text, nullable=False),
    )
    op.create_table(
        "audit",
        sa.Column("n", sa.Integer, primary_key=True),
        owner(),
        sa.Column("at", text, nullable=False),
        sa.Column("code", text, nullable=False),
        sa.Column("words", text, nullable=False),
    )
    op.create_table(
        "calendar",
        sa.Column("id", text, primary_key=True),
        owner(),
        sa.Column("token_hash", text, nullable=False, unique=True),
        sa.Column("made_at", text, nullable=False),
        sa.Column("revoked_at", text),
    )
    op.create_table("meta", sa.Column("name", text, primary_key=True), sa.Column("value", text, nullable=False))
    for table in ("device", "pair_code", "link", "link_opening", "link_session", "audit", "calendar"):
        op.create_index(f"ix_{table}_logbook_id", table, ["logbook_id"])
    for table in ("link_opening", "link_session"):
        op.create_index(f"ix_{table}_link_id", table, ["link_id"])
    for column in ("next_hash", "old_hash"):
        op.create_index(f"ix_device_{column}", "device", [column])
