/** The script that pages with a chart load: it hands over what draws one. */

import { chartFigure } from './figure.js';

/** @type {any} */ (window).hbChartFigure = chartFigure;
