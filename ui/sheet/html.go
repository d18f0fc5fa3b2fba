package sheet

import (
	"fmt"
	"html"
	"regexp"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/ui/theme"
)

// style fits A4 and Letter: the page's size is left to the printer, and every width is a share of
// it. Nothing is told by colour alone.
const style = `@page{margin:14mm 13mm}
*{box-sizing:border-box}
body{font:10.5pt/1.35 "Liberation Sans",Arial,Helvetica,sans-serif;color:#000;background:#fff;max-width:190mm;margin:0 auto;padding:4mm}
h1{font-size:17pt;margin:0 0 1mm}
h2{font-size:12.5pt;margin:6mm 0 1.5mm;border-bottom:.4mm solid #000;break-after:avoid}
p{margin:0 0 1.2mm}
.under,.foot,.else,.screw{color:#333}
.foot{margin-top:6mm;border-top:.2mm solid #777;padding-top:1.5mm;font-size:9pt}
table{border-collapse:collapse;width:100%}
td{padding:.8mm 1.5mm .8mm 0;vertical-align:top;border-bottom:.15mm solid #bbb;overflow-wrap:break-word}
td:first-child{padding-left:.5mm;white-space:nowrap}
tr,li,.step{break-inside:avoid}
ul{margin:0 0 1.5mm;padding-left:5mm}
ul.ticks{list-style:none;padding-left:0}
.box{display:inline-block;width:3.6mm;height:3.6mm;border:.35mm solid #000;margin:0 1.6mm -.5mm 0}
.step{display:grid;grid-template-columns:8mm 6mm 1fr;margin:0 0 2.2mm}
.step .n{text-align:right;padding-right:2mm}
.asks{font-weight:bold}
.blank{display:inline-block;border-bottom:.3mm solid #000;width:32mm;height:5mm;margin:0 1.5mm;vertical-align:baseline}
.choice{display:inline-block;margin-right:4mm;font-weight:normal;white-space:nowrap}
.else,.screw{font-size:9pt}
.caution{border:.5mm solid #000;padding:1.2mm 2mm;margin:0 0 1.5mm;break-inside:avoid;break-after:avoid}
.caution b{letter-spacing:.04em}
.DANGER{border-width:1mm}.WARNING{border-width:.8mm}
.gauge svg{display:block}
.gauge{white-space:nowrap}
.gauges td:first-child{width:34%;white-space:normal}
.keep{white-space:nowrap}
.gauges td.tick{padding-left:5.7mm;text-indent:-5.2mm}
.said{font-size:9pt}
h2+p{break-after:avoid}
ul.ticks{columns:2;column-gap:8mm}
@media screen{body{padding:10mm}}
`

// page is an HTML file being written; every text in it is escaped.
type page struct{ b strings.Builder }

func esc(s string) string { return html.EscapeString(theme.Safe(s)) }

// put writes markup; the texts among its arguments are escaped.
func (w *page) put(format string, texts ...string) {
	safe := make([]any, len(texts))
	for i, t := range texts {
		safe[i] = esc(t)
	}
	w.b.WriteString(fmt.Sprintf(format, safe...))
}

// unbroken is what stays on one line: a day with its time, a number whose thousands stand apart.
var unbroken = regexp.MustCompile(
	`[0-9]{4}-[0-9]{2}-[0-9]{2}(?: [0-9]{2}:[0-9]{2})?|[0-9]{2}-[0-9]{2}|[0-9]{1,3}(?: [0-9]{3})+`)

// say writes markup like put; in its texts, none of which may be of an attribute, days and numbers
// stay whole.
func (w *page) say(format string, texts ...string) {
	safe := make([]any, len(texts))
	for i, t := range texts {
		safe[i] = unbroken.ReplaceAllString(esc(t), `<span class="keep">$0</span>`)
	}
	w.b.WriteString(fmt.Sprintf(format, safe...))
}

// HTML writes a sheet as one file.
func (d Doc) HTML() string {
	w := &page{}
	w.put("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"+
		"<meta name=\"viewport\" content=\"width=device-width\">\n<title>%s</title>\n", d.Title)
	w.b.WriteString("<style>\n" + style + "</style>\n</head>\n<body>\n")
	w.put("<h1>%s</h1>\n", d.Title)
	for _, t := range d.Under {
		w.say("<p class=\"under\">%s</p>\n", t)
	}
	for _, p := range d.Parts {
		w.part(p)
	}
	if len(d.Foot) > 0 {
		w.put("<div class=\"foot\">\n")
		for _, t := range d.Foot {
			w.put("<p>%s</p>\n", t)
		}
		w.put("</div>\n")
	}
	w.put("</body>\n</html>")
	return w.b.String()
}

func (w *page) part(p Part) {
	w.put("<section>\n")
	if p.Head != "" {
		w.put("<h2>%s</h2>\n", p.Head)
	}
	for _, t := range p.Text {
		w.say("<p>%s</p>\n", t)
	}
	if len(p.Rows) > 0 {
		w.put("<table>\n")
		for _, r := range p.Rows {
			w.put("<tr>")
			for _, c := range r {
				w.say("<td>%s</td>", c)
			}
			w.put("</tr>\n")
		}
		w.put("</table>\n")
	}
	w.list("", p.List, "")
	w.list(` class="ticks"`, p.Ticks, `<span class="box"></span>`)
	w.gauges(p.Gauges)
	for _, s := range p.Steps {
		w.step(s)
	}
	w.put("</section>\n")
}

func (w *page) list(class string, items []string, mark string) {
	if len(items) == 0 {
		return
	}
	w.put("<ul" + class + ">\n")
	for _, t := range items {
		w.say("<li>"+mark+"%s</li>\n", t)
	}
	w.put("</ul>\n")
}

func (w *page) step(s Step) {
	for _, c := range s.Cautions {
		w.put("<div class=\"caution %s\"><b>%s</b> %s <b>%s</b></div>\n", c.Signal, c.Signal, c.Harm,
			c.Avoid)
	}
	w.put("<div class=\"step\"><div class=\"n\">%s</div><div><span class=\"box\"></span></div><div>\n",
		fmt.Sprint(s.Number))
	w.put("<p>%s</p>\n", s.Do)
	if s.Asks != "" || s.Blank || len(s.Choices) > 0 {
		w.put("<p class=\"asks\">%s", s.Asks)
		if s.Blank {
			w.put("<span class=\"blank\"></span>%s", s.Unit)
		}
		for _, c := range s.Choices {
			w.put(" <span class=\"choice\"><span class=\"box\"></span>%s</span>", c)
		}
		w.put("</p>\n")
	}
	if s.Screw != "" {
		w.put("<p class=\"screw\">%s</p>\n", s.Screw)
	}
	for _, e := range s.Else {
		w.put("<p class=\"else\">%s</p>\n", e)
	}
	w.put("</div></div>\n")
}

func (w *page) gauges(gs []Gauge) {
	if len(gs) == 0 {
		return
	}
	w.put("<table class=\"gauges\">\n")
	for _, g := range gs {
		if g.Tick {
			w.put("<tr><td class=\"tick\"><span class=\"box\"></span>")
		} else {
			w.put("<tr><td>")
		}
		w.put("%s</td><td class=\"gauge\">", g.Title)
		w.rule(g.Gauge)
		w.put("</td>")
		for _, t := range []string{string(g.Word), g.UsedText(), g.When} {
			class := "said"
			if len(t) <= shortSaid {
				class += " keep"
			}
			w.say("<td class=\""+class+"\">%s</td>", t)
		}
		w.put("</tr>\n")
	}
	w.put("</table>\n")
}

// shortSaid is as long as what is said of a gauge may be to stay on one line: 15 of 1 500 h.
const shortSaid = 20

// The drawn gauge, in mm: a rule up to the high end of the band and a little beyond, the band
// hatched, and what is used as a bar.
const (
	ruleLong = 34.0
	ruleEnd  = 30.0 // the high end
)

func (w *page) rule(g model.Gauge) {
	if !g.Measured || g.High <= 0 {
		return
	}
	at := func(v float64) float64 { return min(v/g.High*ruleEnd, ruleLong) }
	w.put(`<svg width="34mm" height="5mm" viewBox="0 0 34 5" role="img" aria-label="%s">`,
		g.UsedText())
	rect := func(x, y, long, high float64, fill string) {
		w.b.WriteString(fmt.Sprintf(`<rect x="%.2f" y="%.2f" width="%.2f" height="%.2f" fill="%s"/>`,
			x, y, long, high, fill))
	}
	rect(0, 1.2, ruleEnd, 2.6, "#e4e4e4")
	rect(at(g.Low), 1.2, ruleEnd-at(g.Low), 2.6, "#a8a8a8")
	rect(0, 2, at(g.Used), 1, "#000")
	for _, v := range []float64{0, g.Low, g.High} {
		rect(min(at(v), ruleEnd-.25), .6, .25, 3.8, "#000")
	}
	w.put(`</svg>`)
}
