import { nyquistPerMm } from "../../core/physics/modulation.js";
import { densityWords, durationWords, mmWords, percentWords } from "../../core/words.js";
import type { ResolvedOptions } from "../../options/options.js";
import type { Report } from "../report.js";
import { alongWords, densitiesWords, limitWords, sizeWords, spotWords } from "../words/report-words.js";
import { escapeHtml } from "./html-page.js";
import { aroundFacts, type Fact, pictureFacts } from "./job-facts.js";

interface FactGroup {
  readonly title: string;
  readonly facts: readonly Fact[];
}

const yesNo = (yes: boolean): string => (yes ? "yes" : "no");
const digits = (value: number, count = 3): string => String(Number(value.toPrecision(count)));
/** A 0 has no sign, whatever was rounded to it. */
const lightnessError = (value: number): string => `${value.toFixed(2).replace(/^-(?=0\.00$)/, "")} L*`;
const both = (along: string, across: string): string =>
  along === across ? across : `${along} along, ${across} across`;

const mmDigits = (mm: number): string => `${mm.toFixed(3)} mm`;
const lengthWords = ({ lengthMm }: { readonly lengthMm: number }, what: string): string =>
  lengthMm < 0.05 ? `none is ${what}` : `${lengthMm.toFixed(1)} mm in length are ${what}`;

/** Where the pitch ends the detail before its contrast is down to a tenth. */
function tenthWords({ alongLpPerMm, acrossLpPerMm }: Report["detail"], { pitch }: ResolvedOptions): string {
  const ended = [
    alongLpPerMm.at10 >= nyquistPerMm(pitch.alongMm) && "along",
    acrossLpPerMm.at10 >= nyquistPerMm(pitch.acrossMm) && "across",
  ].filter(Boolean);
  const where = ended.length === 2 ? "" : ` ${ended[0]} them`;
  return `line pairs per mm${ended.length === 0 ? "" : `; the pitch ends the detail${where} with more contrast left`}`;
}

/** What `auto` compared. */
const trialWords = (ranking: NonNullable<Report["methodRanking"]>): string =>
  `picked by auto from trials on a typical part: ${ranking.map(({ method, trialError }) => `${method} ${lightnessError(trialError)}`).join(", ")}`;

function groupsOf(report: Report, options: ResolvedOptions): FactGroup[] {
  const { input, job, coverage, detail, prediction, runTime, methodRanking, edges, powerLevels } = report;
  const { motion } = options;
  const { referencePitchMm } = options.material;
  const limit = (at: "at50" | "at10"): string =>
    both(detail.alongLpPerMm[at].toFixed(1), detail.acrossLpPerMm[at].toFixed(1));
  return [
    {
      title: "Picture",
      facts: [
        ["File", input.file === "" ? undefined : input.file],
        ["Size", `${input.widthPx} × ${input.heightPx} pixels`],
        ["On the work", `${digits(input.effectivePxPerMm)} pixels per mm`],
        ["Automatic levels", yesNo(job.autoTone)],
        ...pictureFacts(job, input),
      ],
    },
    {
      title: "Piece",
      facts: [
        ["Size", sizeWords(job), "true size, in whole pixels"],
        ["Pixels", `${job.columns} × ${job.rows}`, "along the lines × lines"],
        ["Lines per inch", densitiesWords(job)],
        ["Pitch", both(alongWords(job), mmWords(job.pitchAcrossMm)), "from pixel to pixel"],
        ["Mirrored", yesNo(job.mirror)],
        ...aroundFacts(job),
        ["Material", job.material],
      ],
    },
    {
      title: edges ? "Drawing" : "Halftone",
      facts: [
        ["Kind of work", job.kind, job.kindGuessed ? "told from the picture" : undefined],
        ["Method", edges ? undefined : job.method, methodRanking && trialWords(methodRanking)],
        ["Power levels", job.levels === 2 ? "2 (on and off)" : String(job.levels)],
        ["Compensated for spot and material", yesNo(job.compensated)],
        ["Tone map", job.kind === "solid" ? undefined : job.toneMap],
        ["Negative", job.negative ? "yes" : undefined, "light and dark swapped"],
        ["Scan of the halftone", edges ? undefined : job.scan],
        ["Seed", edges ? undefined : String(job.seed)],
      ],
    },
    {
      title: "Edges",
      facts: edges
        ? [
            [
              "Marks grow by",
              both(mmDigits(edges.growthAlongMm), mmDigits(edges.growthAcrossMm)),
              "past the pixels that burn; edges were moved inwards by as much",
            ],
            ["Straight edges lie within", mmDigits(edges.toleranceMm)],
            [
              "Thinnest stroke",
              mmDigits(edges.thinnestMarkMm),
              lengthWords(edges.thinStrokes, "thinner and kept"),
            ],
            [
              "Narrowest open gap",
              mmDigits(edges.closingGapMm),
              lengthWords(edges.closingGaps, "narrower and closing"),
            ],
          ]
        : [],
    },
    {
      title: "Spot and lines",
      facts: [
        ["Spot", spotWords(job), "1/e² diameter"],
        ["Matched density", `${densityWords(job.matchedLinesPerInch)} lines per inch`, "spots just touch"],
        ["Overdrive", job.overdrive.toFixed(2), "spot / pitch"],
        ["Gap between lines", coverage.gapMm > 0 ? mmWords(coverage.gapMm) : "none", "pitch less spot"],
        [
          "Left bare between marks",
          coverage.markGapMm > coverage.gapMm ? `${coverage.markGapMm.toFixed(3)} mm` : undefined,
          `a line marks ${mmWords(coverage.markWidthMm)}, where its dose passes the threshold`,
        ],
        ["Overlap", coverage.gapMm > 0 ? undefined : percentWords(Number(coverage.overlap.toFixed(4)))],
        ["Ripple of a solid fill", percentWords(coverage.ripple), "swing of the dose from line to line"],
        [
          "Power factor",
          referencePitchMm === undefined ? undefined : coverage.powerFactor.toFixed(3),
          "for the dose of the reference density",
        ],
        ["Pixels that burn", percentWords(coverage.burnFraction), powerLevels && "counted at full power"],
        ["Pixels with the beam on", powerLevels && percentWords(powerLevels.beamOnFraction)],
        [
          "Largest step between levels",
          powerLevels && lightnessError(powerLevels.largestStepLightness),
          "of a solid fill",
        ],
      ],
    },
    {
      title: "Prediction",
      facts: prediction
        ? [
            [
              "Range of tones",
              `${digits(prediction.darkestLuminance)} to ${digits(prediction.lightestLuminance)}`,
              "luminance factors that the job can reach",
            ],
            [
              "Visual error",
              lightnessError(prediction.visualErrorRms),
              "rms against the photo; 1 is just noticeable",
            ],
            ["Its mean", lightnessError(prediction.visualErrorBias), "above 0: lighter than wanted"],
            [
              "With the dose spread",
              lightnessError(prediction.expectedVisualError),
              `the dose off by ±${percentWords(job.doseSpread)} in two cases of three`,
            ],
            [
              "Uncompensated",
              lightnessError(prediction.uncompensatedVisualErrorRms),
              "what it would have been",
            ],
            [
              "Judged on",
              prediction.judgedShare < 1 ? percentWords(prediction.judgedShare) : "all pixels",
              prediction.judgedShare < 1
                ? `sampled: ±${lightnessError(prediction.visualErrorRmsStandardError)}`
                : undefined,
            ],
            ["Seen from", mmWords(job.viewDistanceMm)],
          ]
        : [],
    },
    {
      title: "Detail",
      facts: [
        ["Half the contrast left", limit("at50"), "line pairs per mm"],
        ["A tenth left", limit("at10"), tenthWords(detail, options)],
        ["The picture's own limit", detail.photoLpPerMm.toFixed(1), "line pairs per mm"],
        [
          "Firing lag, half left",
          detail.alongLimits.firingLpPerMm?.toFixed(1),
          `line pairs per mm along; not the limit up to ${Math.floor(detail.alongLimits.firingFreeUpToMmPerS ?? 0)} mm/s`,
        ],
        ["What binds", detail.limitedBy, limitWords[detail.limitedBy]],
      ],
    },
    {
      title: "Machine",
      facts: [
        ["Run time", durationWords(runTime.seconds), "an estimate: burned spans, run-up and steps"],
        ["Lines", String(runTime.lines)],
        ["Blank lines stepped over", runTime.blankLines > 0 ? String(runTime.blankLines) : undefined],
        ["Beam on", durationWords(runTime.beamOnSeconds)],
        [
          "Speed",
          `${digits(motion.speedMmPerS, 4)} mm/s, ${yesNo(motion.oneWay) === "yes" ? "one way" : "both ways"}`,
        ],
        [
          "Quickest speed",
          runTime.quickestSpeedMmPerS > 0 ? `${digits(runTime.quickestSpeedMmPerS)} mm/s` : undefined,
          "for these lines; beyond it run-up costs more than it saves",
        ],
        [
          "Acceleration",
          `${digits(options.accelerationMmPerS2, 5)} mm/s²`,
          job.around && "of the surface that turns; a turning axis often has less",
        ],
        ["Time for a step", options.stepTimeS > 0 ? `${digits(options.stepTimeS)} s` : undefined],
        ["Firing lag", motion.firingLagUs > 0 ? `${digits(motion.firingLagUs)} µs` : undefined],
        ["Line shift", motion.lineShiftMm !== 0 ? mmWords(motion.lineShiftMm) : undefined],
      ],
    },
  ];
}

/** The job in full, in tables that a narrow window sets under one another. */
export function jobTableHtml(report: Report, options: ResolvedOptions): string {
  const tables = groupsOf(report, options).flatMap(({ title, facts }) => {
    const lines = facts.flatMap(([name, value, meaning]) =>
      value === undefined
        ? []
        : [
            `<tr><th scope="row">${escapeHtml(name)}</th><td>${escapeHtml(value)}${meaning ? ` <small>${escapeHtml(meaning)}</small>` : ""}</td></tr>`,
          ],
    );
    return lines.length === 0
      ? []
      : [
          `<table class="facts"><caption>${escapeHtml(title)}</caption><tbody>${lines.join("\n")}</tbody></table>`,
        ];
  });
  return `<section><h2>The job in full</h2><div class="columns">${tables.join("\n")}</div></section>`;
}
