// What is wrong with a page as it is shown: a list of sentences, empty when all is well.
(() => {
  const wrong = [];
  const shown = (element) => {
    const box = element.getBoundingClientRect();
    const style = getComputedStyle(element);
    return box.width > 1 && box.height > 1 && style.visibility !== 'hidden' && style.display !== 'none';
  };
  const name = (element) => `${element.tagName.toLowerCase()} "${(element.textContent || element.name || '').trim().slice(0, 40)}"`;

  const root = document.scrollingElement;
  // Not innerWidth: a telephone zooms out to show what is too wide.
  if (root.scrollWidth > root.clientWidth) wrong.push(`it is ${root.scrollWidth} wide on a screen of ${root.clientWidth}`);

  // WCAG 2.2, 2.5.8 asks for 24; gloves ask for 44. A link in a sentence is as high as its line.
  for (const element of document.querySelectorAll('button, .button, input:not([type=hidden]), select, textarea, header a, td a, tbody th a, label.choice')) {
    if (!shown(element) || element.closest('.skip')) continue;
    const target = element.type === 'checkbox' ? element.closest('label') : element;
    const { width, height } = target.getBoundingClientRect();
    if (height < 43.5) wrong.push(`${name(element)} is ${height} high`);
    if (width < 24) wrong.push(`${name(element)} is ${width} wide`);
  }

  // WCAG 2.2, 1.4.3: relative luminance and contrast.
  const rgb = (text) => (text.match(/[\d.]+/g) || []).map(Number);
  const luminance = ([r, g, b]) => {
    const linear = [r, g, b].map((c) => c / 255).map((c) => (c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4));
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2];
  };
  const behind = (element) => {
    for (let at = element; at; at = at.parentElement) {
      const colour = rgb(getComputedStyle(at).backgroundColor);
      if (colour.length === 3 || colour[3] === 1) return colour;
    }
    return [255, 255, 255];
  };
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const element = walker.currentNode.parentElement;
    if (!walker.currentNode.textContent.trim() || !shown(element) || element.closest('.unseen, .skip')) continue;
    const [front, back] = [luminance(rgb(getComputedStyle(element).color)), luminance(behind(element))];
    const contrast = (Math.max(front, back) + 0.05) / (Math.min(front, back) + 0.05);
    if (contrast < 4.5) wrong.push(`${name(element)} has a contrast of ${contrast.toFixed(2)}`);
  }

  // Text that its box cuts off.
  for (const element of document.querySelectorAll('button, .button, .plate > div, .tag, th, td, .state')) {
    if (shown(element) && element.scrollWidth > element.clientWidth + 1) wrong.push(`${name(element)} is cut off`);
  }
  return wrong;
})()
