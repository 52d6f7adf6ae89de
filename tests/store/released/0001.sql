BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0001');
CREATE TABLE audit (
	n INTEGER NOT NULL, 
	logbook_id VARCHAR NOT NULL, 
	at VARCHAR NOT NULL, 
	code VARCHAR NOT NULL, 
	words VARCHAR NOT NULL, 
	PRIMARY KEY (n), 
	FOREIGN KEY(logbook_id) REFERENCES logbook (id)
);
INSERT INTO "audit" VALUES(1,'8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','2026-11-25T01:36:47.123Z','made','The logbook was made.');
INSERT INTO "audit" VALUES(2,'8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','2031-03-02T12:00:00.000Z','paired','phone was paired.');
INSERT INTO "audit" VALUES(3,'8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','2031-03-02T12:00:00.000Z','link_made','A link was made for Tern Street, good until 2031-03-09T12:00:00.000Z.');
INSERT INTO "audit" VALUES(4,'8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','2031-03-02T12:00:00.000Z','link_opened','A link for Tern Street was opened.');
INSERT INTO "audit" VALUES(5,'8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','2031-03-02T12:00:00.000Z','calendar_made','The calendar got an address.');
CREATE TABLE calendar (
	id VARCHAR NOT NULL, 
	logbook_id VARCHAR NOT NULL, 
	token_hash VARCHAR NOT NULL, 
	made_at VARCHAR NOT NULL, 
	revoked_at VARCHAR, 
	PRIMARY KEY (id), 
	FOREIGN KEY(logbook_id) REFERENCES logbook (id), 
	UNIQUE (token_hash)
);
INSERT INTO "calendar" VALUES('a6fe04d4-5a53-41d4-a004-03c30febfbe1','8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','4bdd65f885709ca28c70a23d15336fa53303160f27a91211be815d04a3b2eef3','2031-03-02T12:00:00.000Z',NULL);
CREATE TABLE device (
	id VARCHAR NOT NULL, 
	logbook_id VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	made_at VARCHAR NOT NULL, 
	seen_at VARCHAR NOT NULL, 
	token_hash VARCHAR NOT NULL, 
	rotated_at VARCHAR NOT NULL, 
	next_hash VARCHAR, 
	old_hash VARCHAR, 
	old_until VARCHAR, 
	revoked_at VARCHAR, 
	PRIMARY KEY (id), 
	FOREIGN KEY(logbook_id) REFERENCES logbook (id), 
	UNIQUE (token_hash)
);
INSERT INTO "device" VALUES('b7294ba5-346f-441f-915a-f1d6de70da9e','8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','phone','2031-03-02T12:00:00.000Z','2031-03-02T12:00:00.000Z','84c7c1ca7c58b0132fa3588a9e89c0651eb17e9337ee4e01922216e641acc4e2','2031-03-02T12:00:00.000Z',NULL,NULL,NULL,NULL);
CREATE TABLE entry (
	logbook_id VARCHAR NOT NULL, 
	id VARCHAR NOT NULL, 
	seq BIGINT NOT NULL, 
	kind VARCHAR NOT NULL, 
	limb VARCHAR, 
	at VARCHAR NOT NULL, 
	stamp VARCHAR NOT NULL, 
	erased BOOLEAN NOT NULL, 
	doc VARCHAR NOT NULL, 
	PRIMARY KEY (logbook_id, id), 
	FOREIGN KEY(logbook_id) REFERENCES logbook (id)
)
 WITHOUT ROWID

;
INSERT INTO "entry" VALUES('8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','01c06f2a-1000-7000-8000-000000000000',1,'ply','left','2031-03-02T08:00:00.000Z','01c16a079a18-0000-5f3a9c1e',0,'{"id":"01c06f2a-1000-7000-8000-000000000000","kind":"ply","limb":"left","at":"2031-03-02T08:00:00.000Z","zone":"Europe/Lisbon","stamp":"01c16a079a18-0000-5f3a9c1e","erased":false,"body":{"total":5}}');
INSERT INTO "entry" VALUES('8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','01c06f2a-1000-7000-8000-000000000001',2,'comfort','left','2031-03-02T08:00:00.000Z','01c16a079a19-0000-5f3a9c1e',0,'{"id":"01c06f2a-1000-7000-8000-000000000001","kind":"comfort","limb":"left","at":"2031-03-02T08:00:00.000Z","zone":"Europe/Lisbon","stamp":"01c16a079a19-0000-5f3a9c1e","erased":false,"body":{"score":7}}');
INSERT INTO "entry" VALUES('8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','01c06f2a-1000-7000-8000-000000000002',6,'note',NULL,'2031-03-02T08:00:00.000Z','01c16a079e00-0000-5f3a9c1e',0,'{"id":"01c06f2a-1000-7000-8000-000000000002","kind":"note","limb":null,"at":"2031-03-02T08:00:00.000Z","zone":"Europe/Lisbon","stamp":"01c16a079e00-0000-5f3a9c1e","erased":false,"body":{"text":"a note"}}');
INSERT INTO "entry" VALUES('8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','01c06f2a-1000-7000-8000-000000000003',4,'weather',NULL,'2031-03-02T08:00:00.000Z','01c16a079a1b-0000-5f3a9c1e',0,'{"id":"01c06f2a-1000-7000-8000-000000000003","kind":"weather","limb":null,"at":"2031-03-02T08:00:00.000Z","zone":"Europe/Lisbon","stamp":"01c16a079a1b-0000-5f3a9c1e","erased":false,"body":{"of":"tomorrow"}}');
INSERT INTO "entry" VALUES('8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','01c06f2a-1000-7000-8000-000000000004',7,'sore','left','2031-03-02T08:00:00.000Z','01c16a0c31e0-0000-5f3a9c1e',1,'{"moved":{"01c1a5a26800-0000-5f3a9c1e":"01c16a0c31e0-0000-5f3a9c1e"},"id":"01c06f2a-1000-7000-8000-000000000004","kind":"sore","limb":"left","at":"2031-03-02T08:00:00.000Z","zone":"Europe/Lisbon","stamp":"01c16a0c31e0-0000-5f3a9c1e","erased":true,"body":{"height":0.4,"angle":90,"intensity":3}}');
CREATE TABLE history (
	logbook_id VARCHAR NOT NULL, 
	id VARCHAR NOT NULL, 
	stamp VARCHAR NOT NULL, 
	doc VARCHAR NOT NULL, 
	PRIMARY KEY (logbook_id, id, stamp), 
	FOREIGN KEY(logbook_id) REFERENCES logbook (id)
)
 WITHOUT ROWID

;
INSERT INTO "history" VALUES('8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','01c06f2a-1000-7000-8000-000000000002','01c16a079a1a-0000-5f3a9c1e','{"id":"01c06f2a-1000-7000-8000-000000000002","kind":"note","limb":null,"at":"2031-03-02T08:00:00.000Z","zone":"Europe/Lisbon","stamp":"01c16a079a1a-0000-5f3a9c1e","erased":false,"body":{"text":"a note, edited"}}');
INSERT INTO "history" VALUES('8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','01c06f2a-1000-7000-8000-000000000004','01c16a079a1c-0000-5f3a9c1e','{"id":"01c06f2a-1000-7000-8000-000000000004","kind":"sore","limb":"left","at":"2031-03-02T08:00:00.000Z","zone":"Europe/Lisbon","stamp":"01c16a079a1c-0000-5f3a9c1e","erased":false,"body":{"height":0.4,"angle":90,"intensity":3}}');
CREATE TABLE link (
	id VARCHAR NOT NULL, 
	logbook_id VARCHAR NOT NULL, 
	token_hash VARCHAR NOT NULL, 
	spec VARCHAR NOT NULL, 
	made_at VARCHAR NOT NULL, 
	expires VARCHAR NOT NULL, 
	tries INTEGER NOT NULL, 
	revoked_at VARCHAR, 
	snapshot VARCHAR, 
	PRIMARY KEY (id), 
	FOREIGN KEY(logbook_id) REFERENCES logbook (id), 
	UNIQUE (token_hash)
);
INSERT INTO "link" VALUES('3483d187-29ac-4a50-97f4-679412a03ac8','8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','64a41f01140b40847e1f75113d49680c4f8d9dcdb42f31b31ad64f61b3d70234','{"days": 7, "start": null, "end": null, "kinds": null, "notes": true, "live": false, "code": true, "expires": 604800.0, "label": "Tern Street", "waiting": 0, "files": true}','2031-03-02T12:00:00.000Z','2031-03-09T12:00:00.000Z',0,NULL,'[{"id":"01c06f2a-1000-7000-8000-000000000000","kind":"ply","limb":"left","at":"2031-03-02T08:00:00.000Z","zone":"Europe/Lisbon","stamp":"01c16a079a18-0000-5f3a9c1e","erased":false,"body":{"total":5}},{"id":"01c06f2a-1000-7000-8000-000000000001","kind":"comfort","limb":"left","at":"2031-03-02T08:00:00.000Z","zone":"Europe/Lisbon","stamp":"01c16a079a19-0000-5f3a9c1e","erased":false,"body":{"score":7}},{"id":"01c06f2a-1000-7000-8000-000000000002","kind":"note","limb":null,"at":"2031-03-02T08:00:00.000Z","zone":"Europe/Lisbon","stamp":"01c16a079e00-0000-5f3a9c1e","erased":false,"body":{"text":"a note"}},{"id":"01c06f2a-1000-7000-8000-000000000003","kind":"weather","limb":null,"at":"2031-03-02T08:00:00.000Z","zone":"Europe/Lisbon","stamp":"01c16a079a1b-0000-5f3a9c1e","erased":false,"body":{"of":"tomorrow"}}]');
CREATE TABLE link_opening (
	n INTEGER NOT NULL, 
	logbook_id VARCHAR NOT NULL, 
	link_id VARCHAR NOT NULL, 
	at VARCHAR NOT NULL, 
	result VARCHAR NOT NULL, 
	PRIMARY KEY (n), 
	FOREIGN KEY(logbook_id) REFERENCES logbook (id), 
	FOREIGN KEY(link_id) REFERENCES link (id)
);
INSERT INTO "link_opening" VALUES(1,'8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','3483d187-29ac-4a50-97f4-679412a03ac8','2031-03-02T12:00:00.000Z','opened');
CREATE TABLE link_session (
	session_hash VARCHAR NOT NULL, 
	logbook_id VARCHAR NOT NULL, 
	link_id VARCHAR NOT NULL, 
	expires VARCHAR NOT NULL, 
	PRIMARY KEY (session_hash), 
	FOREIGN KEY(logbook_id) REFERENCES logbook (id), 
	FOREIGN KEY(link_id) REFERENCES link (id)
);
INSERT INTO "link_session" VALUES('9ad5d0e800b87c8ac4632072aafddd4d761aa19cbe247080ff1dcfe24edb8345','8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','3483d187-29ac-4a50-97f4-679412a03ac8','2031-03-02T12:30:00.000Z');
CREATE TABLE logbook (
	id VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	epoch VARCHAR NOT NULL, 
	seq BIGINT NOT NULL, 
	made_at VARCHAR NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "logbook" VALUES('8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','Ada','c4036fc45aa24e94',7,'2026-11-25T01:36:47.123Z');
CREATE TABLE meta (
	name VARCHAR NOT NULL, 
	value VARCHAR NOT NULL, 
	PRIMARY KEY (name)
);
CREATE TABLE pair_code (
	code_hash VARCHAR NOT NULL, 
	logbook_id VARCHAR NOT NULL, 
	expires VARCHAR NOT NULL, 
	tries INTEGER NOT NULL, 
	used_at VARCHAR, 
	PRIMARY KEY (code_hash), 
	FOREIGN KEY(logbook_id) REFERENCES logbook (id)
);
INSERT INTO "pair_code" VALUES('0b88a886bcf460fe5632d1e339ebe1459ad27f7db96753723152673c15da9db1','8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','2031-03-02T12:10:00.000Z',0,'2031-03-02T12:00:00.000Z');
INSERT INTO "pair_code" VALUES('53fe0f8308fca14e9e7f32112ed68ec5a5b0d2c67e7ed2f1c161c349d23d97f7','8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','2031-03-02T12:10:00.000Z',0,NULL);
CREATE TABLE restamp (
	logbook_id VARCHAR NOT NULL, 
	id VARCHAR NOT NULL, 
	sent VARCHAR NOT NULL, 
	stamp VARCHAR NOT NULL, 
	PRIMARY KEY (logbook_id, id, sent), 
	FOREIGN KEY(logbook_id) REFERENCES logbook (id)
)
 WITHOUT ROWID

;
INSERT INTO "restamp" VALUES('8e78dde0-a13f-4fb4-af32-47ce67d2dc6f','01c06f2a-1000-7000-8000-000000000004','01c1a5a26800-0000-5f3a9c1e','01c16a0c31e0-0000-5f3a9c1e');
CREATE TABLE summary (
	logbook_id VARCHAR NOT NULL, 
	seq BIGINT NOT NULL, 
	made_at VARCHAR NOT NULL, 
	doc VARCHAR NOT NULL, 
	PRIMARY KEY (logbook_id), 
	FOREIGN KEY(logbook_id) REFERENCES logbook (id)
);
INSERT INTO "summary" VALUES('8e78dde0-a13f-4fb4-af32-47ce67d2dc6f',2,'2031-03-02T12:00:00.000Z','{"now":"2031-03-02T12:00:00.000Z","seq":2}');
CREATE UNIQUE INDEX entry_seq ON entry (logbook_id, seq);
CREATE INDEX ix_device_logbook_id ON device (logbook_id);
CREATE INDEX ix_pair_code_logbook_id ON pair_code (logbook_id);
CREATE INDEX ix_link_logbook_id ON link (logbook_id);
CREATE INDEX ix_link_opening_logbook_id ON link_opening (logbook_id);
CREATE INDEX ix_link_session_logbook_id ON link_session (logbook_id);
CREATE INDEX ix_audit_logbook_id ON audit (logbook_id);
CREATE INDEX ix_calendar_logbook_id ON calendar (logbook_id);
CREATE INDEX ix_link_opening_link_id ON link_opening (link_id);
CREATE INDEX ix_link_session_link_id ON link_session (link_id);
CREATE INDEX ix_device_next_hash ON device (next_hash);
CREATE INDEX ix_device_old_hash ON device (old_hash);
COMMIT;
