// Run in a page whose calculators have started: draws papers with their answers, and says where
// each part of their drawings stands. For the tests of three browsers.
async (asked) => {
  const ask = (request) => window.hbCalculatorClient.run(request);
  await new Promise((there, failed) => {
    const script = document.createElement('script');
    script.src = '../assets/handbook/practice-questions.js';
    script.onload = there;
    script.onerror = () => failed(new Error('The questions did not load.'));
    document.head.append(script);
  });
  await ask({ action: 'teach', program: window.HB_PRACTICE });
  const place = document.createElement('div');
  document.body.append(place);
  const partsOf = ({ svg }) => {
    const parsed = new DOMParser().parseFromString(svg, 'image/svg+xml').documentElement;
    place.replaceChildren(document.importNode(parsed, true));
    return [...place.querySelectorAll('path[data-hb-gauge]')].map((part) => {
      const { x, y, width, height } = part.getBBox();
      return [x, y, x + width, y + height];
    });
  };
  const found = [];
  for (const request of asked) {
    const reply = await ask({ action: 'practice', ...request });
    const drawn = (reply.practice?.asked ?? []).flatMap(({ drawing }) => drawing ?? []);
    found.push({ reply, parts: drawn.map(partsOf) });
  }
  place.remove();
  return found;
};
