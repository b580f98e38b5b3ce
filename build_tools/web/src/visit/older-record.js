/** What an earlier edition kept on the device or wrote into a file, in the form of this one. */

/** Version of files in which the provenance of a verdict was called its standing. */
const WITH_STANDING = 1;
/** The last version in which steps said nothing of what was read. */
const WITHOUT_OUTCOMES = 2;

/** @param {any} each @returns {any[]} of a file that may be damaged */
const listOf = (each) => (Array.isArray(each) ? each : []);

/** @param {any} answer as it was kept, or as it stands in a file: it is changed */
export function withProvenance(answer) {
  for (const verdict of listOf(answer?.verdicts)) {
    if (verdict === null || typeof verdict !== 'object') continue;
    if (!('standing' in verdict) || 'provenance' in verdict) continue;
    verdict.provenance = verdict.standing;
    delete verdict.standing;
  }
}

/**
 * Brings a file of an older version up to this one. What is damaged in it stays so, and is told.
 *
 * @param {any} file parsed
 * @param {number} version of this edition
 */
export function upgradeFile(file, version) {
  const before = file.version;
  if (before !== WITH_STANDING && before !== WITHOUT_OUTCOMES) return;
  for (const visit of listOf(file.visits)) {
    if (before === WITH_STANDING) listOf(visit?.answers).forEach(withProvenance);
    if (visit === null || typeof visit !== 'object') continue;
    for (const part of ['outcomes', 'choices', 'checks']) visit[part] ??= [];
  }
  file.version = version;
}
