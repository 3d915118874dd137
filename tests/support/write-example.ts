/** Writes reports/example/ again, with the program as built: `npm run example`. */
import { EXAMPLE, filesOf, publishExample, replaceExample } from "./example-month.ts";

await replaceExample(await publishExample());
console.log(`${EXAMPLE}: ${(await filesOf(EXAMPLE)).length} files`);
