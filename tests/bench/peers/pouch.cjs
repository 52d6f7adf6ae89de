// PouchDB as a client of pouchdb-server. Started by pouch.py with what to do as its argument, and on its standard
// input {modules, url, size, work}; says in JSON what it took: seconds, or the milliseconds of each put.

const { createRequire } = require("node:module");
const { readFileSync } = require("node:fs");

const asked = JSON.parse(readFileSync(0, "utf8"));
const load = createRequire(`${asked.modules}/`);
const PouchDB = load("pouchdb");
PouchDB.plugin(load("pouchdb-adapter-memory"));

const server = (log = "") => new PouchDB(asked.url + log);
const here = () => new PouchDB("here", { adapter: "memory" });
const doc = ({ id, ...rest }) => ({ _id: id, ...rest });

const jobs = {
  async push() {
    const local = here();
    await local.bulkDocs(asked.work.map(doc));
    const began = performance.now();
    const done = await local.replicate.to(server(), { batch_size: asked.size });
    if (done.docs_written !== asked.work.length) throw new Error(JSON.stringify(done));
    return { seconds: (performance.now() - began) / 1000 };
  },
  async pull() {
    const began = performance.now();
    const done = await here().replicate.from(server(), { batch_size: asked.size });
    return { seconds: (performance.now() - began) / 1000, got: done.docs_written };
  },
  async one() {
    const taken = [];
    await Promise.all(
      asked.work.map(async (mine, n) => {
        const remote = server(n);
        await remote.info();
        for (const one of mine) {
          const began = performance.now();
          await remote.put(doc(one));
          taken.push(performance.now() - began);
        }
      }),
    );
    return { taken };
  },
};

jobs[process.argv[2]]().then((told) => {
  process.stdout.write(JSON.stringify(told));
  process.exit(0);
});
