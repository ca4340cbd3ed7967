namespace EdgeGuard.Reports.Html;

/// <summary>The style sheet inside every report: light, dark and print, no font or picture from elsewhere.</summary>
internal static class ReportStyle
{
    public const string Css = """
        :root { color-scheme: light dark; --bg: #fff; --fg: #1b1f24; --soft: #59636e; --rule: #d5dae0; --card: #f5f7f9;
          --good: #146c2e; --bad: #b3261e; --open: #7a5900; --hot: #f2b26b; --cool: #8cc0ea; --waiting: #e6d37a; --fault: #ef8f88; --neutral: #c9ced4;
          --s0: #c2410c; --s1: #0b62b0; --s2: #117a4b; --s3: #8a3ea8; --s4: #7c5b00; --s5: #3d4852; }
        @media (prefers-color-scheme: dark) { :root { --bg: #14171a; --fg: #e6e9ec; --soft: #9aa4ae; --rule: #363d44; --card: #1d2125;
          --good: #6fd08c; --bad: #ff8a80; --open: #e5c46b; --hot: #a5651f; --cool: #2f6ea5; --waiting: #7f6f1e; --fault: #a5352d; --neutral: #4a525a;
          --s0: #ff9a5c; --s1: #74b8ff; --s2: #5fd39a; --s3: #d59af0; --s4: #e0bd55; --s5: #b8c2cc; } }
        @media print { :root { color-scheme: light; --bg: #fff; --fg: #000; --soft: #444; --rule: #bbb; --card: #fff;
          --good: #146c2e; --bad: #b3261e; --open: #7a5900; --hot: #f2b26b; --cool: #8cc0ea; --waiting: #e6d37a; --fault: #ef8f88; --neutral: #c9ced4;
          --s0: #c2410c; --s1: #0b62b0; --s2: #117a4b; --s3: #8a3ea8; --s4: #7c5b00; --s5: #3d4852; }
          * { print-color-adjust: exact; -webkit-print-color-adjust: exact; } main { max-width: none; padding: 0; }
          figure, tr { break-inside: avoid; } h2 { break-after: avoid; } }
        html { background: var(--bg); color: var(--fg); font: 16px/1.5 system-ui, "Segoe UI", "DejaVu Sans", sans-serif; }
        body { margin: 0; } main { max-width: 66rem; margin: 0 auto; padding: 1.5rem 1.25rem 4rem; }
        h1 { font-size: 1.7rem; line-height: 1.25; margin: 0 0 .75rem; } h2 { font-size: 1.2rem; margin: 2.25rem 0 .5rem; }
        p { max-width: 46rem; margin: .5rem 0; } .note { color: var(--soft); font-size: .9rem; }
        .verdict { border-left: .4rem solid; padding: .5rem .9rem; background: var(--card); font-weight: 600; max-width: none; }
        .good { color: var(--good); } .bad { color: var(--bad); } .open { color: var(--open); }
        .wide { overflow-x: auto; } table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
        th, td { text-align: left; padding: .3rem .8rem .3rem 0; border-bottom: 1px solid var(--rule); vertical-align: top; }
        th { font-weight: 600; color: var(--soft); font-size: .85rem; } td.num, th.num { text-align: right; white-space: nowrap; } td.word { font-weight: 600; white-space: nowrap; } td.word, th:last-child { padding-left: 1.2rem; }
        .story { list-style: none; padding: 0; margin: .5rem 0; font-variant-numeric: tabular-nums; }
        .story li { display: grid; grid-template-columns: 5.5rem 4rem 1fr; gap: .75rem; padding: .2rem 0 .2rem .6rem; border-left: .25rem solid var(--neutral); }
        .story .hot { border-color: var(--hot); } .story .cool { border-color: var(--cool); } .story .waiting { border-color: var(--waiting); }
        .story .fault { border-color: var(--fault); } .story .fault span:last-child { font-weight: 600; } .story span:first-child { color: var(--soft); }
        figure { margin: .75rem 0; } figcaption { color: var(--soft); font-size: .9rem; } figure ol { margin: .25rem 0 0 1.2rem; padding: 0 0 0 .6rem; }
        svg.chart { width: 100%; min-width: 40rem; height: auto; display: block; font: 12px system-ui, "Segoe UI", "DejaVu Sans", sans-serif; }
        svg.chart text { fill: var(--fg); } svg.chart .tick, svg.chart .legend { fill: var(--soft); } svg.chart .panel-title { font-weight: 600; font-size: 13px; }
        svg.chart .grid { stroke: var(--rule); stroke-width: .6; } svg.chart .tick-mark, svg.chart .frame { stroke: var(--soft); fill: none; stroke-width: .8; }
        svg.chart .line { fill: none; stroke-width: 1.8; stroke-linejoin: round; }
        svg.chart .s0 { stroke: var(--s0); } svg.chart .s1 { stroke: var(--s1); } svg.chart .s2 { stroke: var(--s2); stroke-dasharray: 7 3; }
        svg.chart .s3 { stroke: var(--s3); stroke-dasharray: 2 3; } svg.chart .s4 { stroke: var(--s4); stroke-dasharray: 9 3 2 3; } svg.chart .s5 { stroke: var(--s5); stroke-dasharray: 4 4; }
        svg.chart line.limit { stroke: var(--open); stroke-width: 1; stroke-dasharray: 6 4; } svg.chart line.trip { stroke: var(--bad); stroke-width: 1.4; }
        svg.chart text.limit { fill: var(--open); } svg.chart text.trip { fill: var(--bad); font-weight: 600; }
        svg.chart .band { opacity: .16; } svg.chart .lane { opacity: .85; } svg.chart .lane-name { font-size: 11px; }
        svg.chart rect.hot { fill: var(--hot); } svg.chart rect.cool { fill: var(--cool); } svg.chart rect.waiting { fill: var(--waiting); }
        svg.chart rect.fault { fill: var(--fault); } svg.chart rect.neutral { fill: var(--neutral); }
        svg.chart .mark line { stroke: var(--soft); stroke-width: .9; stroke-dasharray: 2 2; } svg.chart .mark text { font-size: 11px; font-weight: 600; }
        svg.chart .mark.fault line { stroke: var(--bad); stroke-width: 1.2; } svg.chart .mark.fault text { fill: var(--bad); }
        """;
}
