// Package picture draws a frame of the terminal as an SVG picture, for documents. The frame is what
// a screen's View returns or what a terminal shows: lines of text with colours and attributes
// (ECMA-48 SGR).
package picture

import (
	"fmt"
	"html"
	"image/color"
	"strings"

	"github.com/charmbracelet/x/cellbuf"
)

// The sizes are those of a monospaced face of 14 px: a cell is 0.6 em wide and 1.25 em high.
const (
	face   = 14.0
	cellW  = 8.4
	cellH  = 17.5
	margin = 12.0
	base   = 13.2 // from the top of a cell to the base line
)

// Paper is what a terminal paints where a program names no colour.
type Paper struct{ Ground, Ink color.Color }

// Dark and Light are the two papers of the program's themes.
var (
	Dark  = Paper{color.RGBA{0x16, 0x18, 0x1b, 0xff}, color.RGBA{0xd0, 0xd4, 0xd8, 0xff}}
	Light = Paper{color.RGBA{0xfb, 0xfb, 0xf9, 0xff}, color.RGBA{0x2a, 0x2d, 0x31, 0xff}}
)

// SVG draws frame on w columns and h rows; what goes beyond them is cut. Text stays text, each run
// held to its cells, so that the picture is true to the grid in any monospaced face.
func SVG(frame string, w, h int, p Paper) string {
	b := cellbuf.NewBuffer(w, h)
	cellbuf.SetContent(b, strings.ReplaceAll(frame, "\r\n", "\n"))
	var s strings.Builder
	wide, high := float64(w)*cellW+2*margin, float64(h)*cellH+2*margin
	s.WriteString(fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %.0f %.0f" font-family="ui-monospace, 'DejaVu Sans Mono', monospace" font-size="%.0f">`+"\n", wide, high, face))
	s.WriteString(fmt.Sprintf(`<rect width="100%%" height="100%%" rx="6" fill="%s"/>`+"\n",
		hex(p.Ground)))
	for y := range h {
		for _, r := range runs(b, y, w) {
			r.draw(&s, y, p)
		}
	}
	s.WriteString("</svg>\n")
	return s.String()
}

// run is text of one style in neighbouring cells of a row.
type run struct {
	at, cells int
	text      string
	style     cellbuf.Style
}

// runs cuts row y into its runs.
func runs(b *cellbuf.Buffer, y, w int) []run {
	var out []run
	for x := 0; x < w; {
		c := b.Cell(x, y)
		if c == nil || c.Rune == 0 {
			x++
			continue
		}
		n := max(c.Width, 1)
		if k := len(out) - 1; k >= 0 && out[k].at+out[k].cells == x &&
			out[k].style.Equal(&c.Style) {
			out[k].text += c.String()
			out[k].cells += n
		} else {
			out = append(out, run{x, n, c.String(), c.Style})
		}
		x += n
	}
	return out
}

// draw writes the run's ground, where it has one, and its text.
func (r run) draw(s *strings.Builder, y int, p Paper) {
	ink, ground := p.Ink, color.Color(nil)
	if r.style.Fg != nil {
		ink = r.style.Fg
	}
	if r.style.Bg != nil {
		ground = r.style.Bg
	}
	if r.style.Attrs.Contains(cellbuf.ReverseAttr) {
		if ground == nil {
			ground = p.Ground
		}
		ink, ground = ground, ink
	}
	x, top, wide := margin+float64(r.at)*cellW, margin+float64(y)*cellH, float64(r.cells)*cellW
	if ground != nil {
		s.WriteString(fmt.Sprintf(`<rect x="%.1f" y="%.1f" width="%.1f" height="%.1f" fill="%s"/>`+
			"\n", x, top, wide, cellH, hex(ground)))
	}
	if strings.TrimSpace(r.text) == "" {
		return
	}
	s.WriteString(fmt.Sprintf(`<text x="%.1f" y="%.1f" fill="%s"%s textLength="%.1f" lengthAdjust="spacingAndGlyphs" xml:space="preserve">%s</text>`+"\n",
		x, top+base, hex(ink), r.attributes(), wide, html.EscapeString(r.text)))
}

func (r run) attributes() string {
	var s string
	if r.style.Attrs.Contains(cellbuf.BoldAttr) {
		s += ` font-weight="bold"`
	}
	if r.style.Attrs.Contains(cellbuf.ItalicAttr) {
		s += ` font-style="italic"`
	}
	if r.style.Attrs.Contains(cellbuf.FaintAttr) {
		s += ` opacity="0.6"`
	}
	if r.style.UlStyle != cellbuf.NoUnderline {
		s += ` text-decoration="underline"`
	}
	return s
}

func hex(c color.Color) string {
	r, g, b, _ := c.RGBA()
	return fmt.Sprintf("#%02x%02x%02x", r>>8, g>>8, b>>8)
}
