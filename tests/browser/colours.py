"""The ways in which words are coloured: each is looked at once."""

from __future__ import annotations

MANY_WAYS = 10  # in which words are coloured
# Marks what has text in colours, on grounds and in letters that are not in `seen`; gives these.
# A ground ends the look at what lies behind it; letters are large or small, as WCAG 1.4.3 has it.
# A link that is underlined is told from the words around it whatever its colour.
NEW_COLOURS = """seen => {
    const BLOCKS = 'p, li, td, th, dd, dt, summary, figcaption, div, section';
    const LARGE = 24, LARGE_AND_BOLD = 18.66;
    const grounds = new Map();
    const faded = new Map();
    const isWhole = (colour) => colour.startsWith('rgb(');
    const groundOf = (element) => {
        if (!element) return '';
        if (!grounds.has(element)) {
            const {backgroundColor, backgroundImage} = getComputedStyle(element);
            const isPlain = backgroundImage === 'none';
            const isClear = isPlain && backgroundColor === 'rgba(0, 0, 0, 0)';
            const own = isClear ? '' : ` on ${backgroundColor} ${backgroundImage}`;
            const behind = isPlain && isWhole(backgroundColor)
                ? '' : groundOf(element.parentElement);
            grounds.set(element, own + behind);
        }
        return grounds.get(element);
    };
    const fadedBy = (element) => {
        if (!element) return '';
        if (!faded.has(element)) {
            const {opacity} = getComputedStyle(element);
            faded.set(element, (opacity === '1' ? '' : ` faded ${opacity}`)
                + fadedBy(element.parentElement));
        }
        return faded.get(element);
    };
    for (const old of document.querySelectorAll('[data-new-colours]')) {
        old.removeAttribute('data-new-colours');
    }
    const known = new Set(seen);
    const found = [];
    for (const element of document.body.querySelectorAll('*')) {
        const hasText = [...element.childNodes].some(
            (node) => node.nodeType === Node.TEXT_NODE && node.data.trim());
        if (!hasText || !element.checkVisibility()) continue;
        const {color, fontSize, fontWeight, textDecorationLine} = getComputedStyle(element);
        const isLarge = parseFloat(fontSize) >= (fontWeight >= 700 ? LARGE_AND_BOLD : LARGE);
        const isLink = element.matches('a') && textDecorationLine !== 'underline';
        const block = isLink && element.parentElement.closest(BLOCKS);
        const amongWords = block && block.textContent.trim() !== element.textContent.trim()
            ? ` ${fontWeight} among ${getComputedStyle(block).color}` : '';
        const look = [color, isLarge ? ' large' : '', amongWords, groundOf(element),
            fadedBy(element)].join('');
        if (known.has(look)) continue;
        known.add(look);
        found.push(look);
        element.setAttribute('data-new-colours', '');
    }
    return found;
}"""
