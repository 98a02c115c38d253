/** Only the used parts of the chart library, so that bundling omits the rest. */
import { LineChart, ScatterChart } from "echarts/charts";
import { GridComponent, LegendComponent, MarkLineComponent } from "echarts/components";
import { init, use } from "echarts/core";
import { SVGRenderer } from "echarts/renderers";

use([LineChart, ScatterChart, GridComponent, LegendComponent, MarkLineComponent, SVGRenderer]);

/** @param option as the chart library documents it */
export function drawSvg(option: Record<string, unknown>, widthPx: number, heightPx: number): string {
  const drawing = init(null, null, { renderer: "svg", ssr: true, width: widthPx, height: heightPx });
  try {
    drawing.setOption(option);
    return drawing.renderToSVGString();
  } finally {
    drawing.dispose();
  }
}
