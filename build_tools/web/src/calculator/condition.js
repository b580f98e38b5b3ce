/**
 * What a field or a cell depends on: `data-hb-when="method=index dial"` says that it counts while
 * the choice `method` is `index` or `dial`.
 *
 * @param {string | undefined} text
 * @returns {{choice: string, values: string[]} | null} nothing where it always counts
 */
export function conditionIn(text) {
  const [choice = '', values = ''] = (text ?? '').split('=');
  return choice && values ? { choice, values: values.split(' ') } : null;
}
