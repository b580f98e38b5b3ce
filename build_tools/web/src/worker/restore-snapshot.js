/**
 * Brings a Python back that the build has frozen: `create_snapshot.mjs` is the other half. No other file
 * knows how the runtime's memory is kept.
 *
 * The ordinary loader is left out. It spends most of a start on work that a frozen Python has
 * behind it: files, packages, a bridge to every object of the page. All that a calculator needs
 * is text in and text out, and for that Python's own C functions are enough.
 */

import { layRuns, readSnapshot } from './snapshot-file.js';

/** @typedef {Record<string, any>} Exports the C functions of the runtime */

const PAGE = 65536;
const MOST_MEMORY = 2 ** 31;
const CLOCK_NANOSECONDS = 1_000_000;

/** A frozen Python asked for something that only the ordinary start has: a file, the page, … */
export class BeyondSnapshot extends Error {
  name = 'BeyondSnapshot';
}

/**
 * @param {WebAssembly.Module} module the pinned runtime
 * @param {Uint8Array[]} file the snapshot, unpacked, in as many parts as it came in
 * @returns {Promise<Bridge>}
 */
export async function restoreSnapshot(module, file) {
  const { facts, body } = readSnapshot(file);
  const memory = new WebAssembly.Memory({ initial: facts.pages, maximum: MOST_MEMORY / PAGE });
  const table = new WebAssembly.Table({ initial: facts.table, element: 'anyfunc' });
  const instance = await WebAssembly.instantiate(module, imports(module, facts, memory, table));
  layRuns(facts.runs, body, new Uint8Array(memory.buffer));
  return new Bridge(instance.exports, memory);
}

/** `calcs.bridge.answer`, called through Python's C functions. */
export class Bridge {
  #python;
  #memory;
  #answer = 0;

  /**
   * @param {Exports} python
   * @param {WebAssembly.Memory} memory
   */
  constructor(python, memory) {
    this.#python = python;
    this.#memory = memory;
  }

  /** @param {string} request as JSON @returns {string} the reply as JSON */
  answer(request) {
    this.#answer ||= this.#find('calcs.bridge', 'answer');
    const python = this.#python;
    const asked = this.#withText(request, (text) => python.PyUnicode_FromString(text));
    const replied = python.PyObject_CallOneArg(this.#answer, asked);
    python._Py_DecRef(asked);
    if (!replied) throw new BeyondSnapshot('Python ended the call with an error of its own.');
    const place = python.PyUnicode_AsUTF8(replied);
    if (!place) throw new BeyondSnapshot('The reply holds half of a character.');
    const words = this.#read(place);
    python._Py_DecRef(replied);
    return words;
  }

  /** @param {string} program that the page brings beside what the snapshot holds */
  teach(program) {
    const python = this.#python;
    const failed = this.#withText(program, (text) => python.PyRun_SimpleString(text));
    if (failed) throw new BeyondSnapshot('Python stopped over what the page brings.');
  }

  /** @param {string} module @param {string} name @returns {number} a function of Python */
  #find(module, name) {
    const found = this.#withText(module, (text) => this.#python.PyImport_AddModule(text));
    const member = this.#withText(name, (text) => this.#python.PyObject_GetAttrString(found, text));
    if (!member) throw new BeyondSnapshot(`The snapshot has no ${module}.${name}.`);
    return member;
  }

  /** @param {string} text @param {(place: number) => number} use @returns {number} */
  #withText(text, use) {
    const bytes = new TextEncoder().encode(text);
    const place = this.#python.malloc(bytes.length + 1);
    const memory = new Uint8Array(this.#memory.buffer);
    memory.set(bytes, place);
    memory[place + bytes.length] = 0;
    const result = use(place);
    this.#python.free(place);
    return result;
  }

  /** @param {number} place @returns {string} */
  #read(place) {
    const memory = new Uint8Array(this.#memory.buffer);
    return new TextDecoder().decode(memory.subarray(place, memory.indexOf(0, place)));
  }
}

/**
 * @param {WebAssembly.Module} module
 * @param {import('./snapshot-file.js').Facts} facts
 * @param {WebAssembly.Memory} memory
 * @param {WebAssembly.Table} table
 * @returns {WebAssembly.Imports}
 */
function imports(module, facts, memory, table) {
  /** @type {Record<string, any>} */
  const own = { ...services(memory, table), memory, __indirect_function_table: table };
  /** @type {Record<string, Record<string, any>>} */
  const found = {};
  for (const { module: group, name, kind } of WebAssembly.Module.imports(module)) {
    const named = (found[group] ??= {});
    if (name in own) named[name] = own[name];
    else if (kind === 'global') named[name] = globalOf(name, facts.globals);
    else if (kind === /** @type {string} */ ('tag')) named[name] = tag();
    else named[name] = beyond(name);
  }
  return found;
}

/** @param {string} name @param {Record<string, number>} values @returns {WebAssembly.Global} */
function globalOf(name, values) {
  const mutable = !name.endsWith('_base') || name === '__heap_base';
  return new WebAssembly.Global({ value: 'i32', mutable }, values[name] ?? 0);
}

/** What C throws with: exceptions of C++ and long jumps. The types of TypeScript lack it. */
function tag() {
  const { Tag } = /** @type {any} */ (WebAssembly);
  return new Tag({ parameters: ['i32'] });
}

/** @param {string} name @returns {() => never} */
function beyond(name) {
  return () => {
    throw new BeyondSnapshot(`A calculator asked the runtime for ${name}.`);
  };
}

/**
 * What Python needs from outside while it computes: memory and the time of day.
 *
 * @param {WebAssembly.Memory} memory
 * @param {WebAssembly.Table} table
 */
function services(memory, table) {
  return {
    emscripten_resize_heap(/** @type {number} */ size) {
      try {
        memory.grow(Math.ceil(((size >>> 0) - memory.buffer.byteLength) / PAGE));
        return 1;
      } catch {
        return 0; // Python raises MemoryError
      }
    },
    emscripten_get_heap_max: () => MOST_MEMORY,
    emscripten_date_now: () => Date.now(),
    emscripten_get_now: () => performance.now(),
    clock_time_get(
      /** @type {number} */ clock,
      /** @type {bigint} */ _precision,
      /** @type {number} */ at,
    ) {
      const now = clock === 0 ? Date.now() : performance.now();
      const nanoseconds = BigInt(Math.round(now * CLOCK_NANOSECONDS));
      new DataView(memory.buffer).setBigInt64(at, nanoseconds, true);
      return 0;
    },
    // Python calls C functions of other shapes than it expects; JavaScript lets it.
    _PyEM_TrampolineCall_JS: (/** @type {number} */ place, /** @type {number[]} */ ...given) =>
      table.get(place)(...given),
    _Py_CheckEmscriptenSignals_Helper: () => 0,
  };
}
