/** Stands where a browser's worker stands; `behave` is what it does with each question. */
export class FakeWorker extends EventTarget {
  static made = [];

  constructor(behave) {
    super();
    this.behave = behave;
    this.asked = [];
    this.ended = false;
    FakeWorker.made.push(this);
  }

  postMessage(question) {
    structuredClone(question);
    this.asked.push(question);
    queueMicrotask(() => this.behave(this, question));
  }

  terminate() {
    this.ended = true;
  }

  say(data) {
    this.dispatchEvent(Object.assign(new Event('message'), { data }));
  }

  fail(type) {
    this.dispatchEvent(new Event(type, { cancelable: true }));
  }
}

/** Stands where the channels stand by which a worker may say something sooner. */
export class FakeChannels {
  opened = [];

  open = (heard) => {
    const channel = { name: `channel-${this.opened.length + 1}`, heard, closed: false };
    this.opened.push(channel);
    return { name: channel.name, close: () => (channel.closed = true) };
  };

  say(name, message) {
    this.opened.find((channel) => channel.name === name).heard(message);
  }
}
