package theme

import "strings"

// bigFigures are the figures of a clock, three cells wide and five lines high, so that they are
// read from across the bench.
var bigFigures = map[rune][5]string{
	'0': {"###", "# #", "# #", "# #", "###"}, '1': {"  #", "  #", "  #", "  #", "  #"},
	'2': {"###", "  #", "###", "#  ", "###"},
	'3': {"###", "  #", "###", "  #", "###"}, '4': {"# #", "# #", "###", "  #", "  #"},
	'5': {"###", "#  ", "###", "  #", "###"},
	'6': {"###", "#  ", "###", "# #", "###"}, '7': {"###", "  #", "  #", "  #", "  #"},
	'8': {"###", "# #", "###", "# #", "###"},
	'9': {"###", "# #", "###", "  #", "###"}, ':': {" ", "#", " ", "#", " "},
}

// Big writes a clock's figures large, in five lines of 2n cells a figure; characters without a
// figure are left out.
func (t *Theme) Big(s string) []string {
	block := "##"
	if !t.ASCII {
		block = "██"
	}
	out := make([]string, 5)
	for _, r := range s {
		rows, ok := bigFigures[r]
		if !ok {
			continue
		}
		for i, row := range rows {
			out[i] += strings.ReplaceAll(strings.ReplaceAll(row, " ", "  "), "#", block) + "  "
		}
	}
	for i := range out {
		out[i] = strings.TrimRight(out[i], " ")
	}
	return out
}
