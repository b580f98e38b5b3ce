/** Reads {fact, texts} a line as JSON, and tells for each text what the field of a step makes of it. */

import { createInterface } from 'node:readline';

import { checked } from '../../build_tools/web/src/visit/reading-check.js';
import { fieldText, typedReading } from '../../build_tools/web/src/visit/reading-text.js';

for await (const line of createInterface({ input: process.stdin })) {
  const { fact, texts } = JSON.parse(line);
  const told = texts.map((text) => {
    const reading = typedReading(text, fact.unit);
    const { value = null, why } = checked(reading, fact);
    return { value, why, shown: fieldText(reading, fact.unit) };
  });
  process.stdout.write(`${JSON.stringify(told)}\n`);
}
