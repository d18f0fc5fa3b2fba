package job

import (
	"math/big"
	"regexp"
	"strconv"
	"strings"
)

// reference is a second reader of straight movement, slow and plain: text, regular expressions and
// fractions, a line at a time. It shares no code with the first. It knows no arcs, no time and no
// faults.
type reference struct {
	pos                            map[string]*big.Rat
	inch, relative, eAlways, eNow  bool
	mode                           string
	tool                           int
	chosen                         bool
	flow                           *big.Rat
	pushed, back                   map[int]*big.Rat // nm
	travel                         map[string]*big.Rat
	moves, changes, manual, homing int64
	retractions, spiral, pauses    int64
	deleted, checksums, heats      int64
	pulled, laid                   bool
	own, chose                     bool // a word other than M6 chooses a tool; one did
	way                            []refMove
	raised                         *big.Rat // nm: higher than its coordinate says
	hot, bed                       *big.Rat
	dwell                          *big.Rat // s
	service, unknown               map[string]int64
}

func newReference() *reference {
	r := &reference{pos: map[string]*big.Rat{}, travel: map[string]*big.Rat{},
		flow:   big.NewRat(1, 1),
		pushed: map[int]*big.Rat{}, back: map[int]*big.Rat{}, hot: new(big.Rat), bed: new(big.Rat),
		dwell: new(big.Rat), raised: new(big.Rat),
		service: map[string]int64{}, unknown: map[string]int64{}}
	for _, a := range []string{"X", "Y", "Z", "E"} {
		r.pos[a], r.travel[a] = new(big.Rat), new(big.Rat)
	}
	return r
}

var (
	refName  = regexp.MustCompile(`^(?:N[0-9]+[ \t]*)?([A-Z][A-Z_][A-Z_0-9]*)`)
	refNum   = regexp.MustCompile(`^[ \t]*N[ \t]*[0-9]+`)
	refParen = regexp.MustCompile(`\([^()]*\)`)
	refSum   = regexp.MustCompile(`\*[0-9]+[ \t]*$`)
	refWord  = regexp.MustCompile(`([A-Z])([+-]?[0-9]*\.?[0-9]*)`)
	refQuiet = regexp.MustCompile(`^(M(17|18|7[3567]|84|10[567]|11[04578]|155|300|400|486|572|593|900)|G94)$`)
	refKnown = regexp.MustCompile(`^(G(0|1|4|10|11|17|18|19|20|21|28|80|90|91|92)|M(0|1|6|82|83|108|135|1020|104|109|140|190|141|191|201|203|204|205|220|221|600))$`)
)

// step rounds to the nearest whole, half away from zero.
func step(v *big.Rat) *big.Rat {
	half := big.NewRat(1, 2)
	if v.Sign() < 0 {
		half.Neg(half)
	}
	sum := new(big.Rat).Add(v, half)
	return new(big.Rat).SetInt(new(big.Int).Quo(sum.Num(), sum.Denom()))
}

// millionths are what a number says, in millionths.
func millionths(s string) *big.Rat {
	v, good := new(big.Rat).SetString(strings.TrimPrefix(s, "+"))
	if !good {
		panic("the reference was given " + s)
	}
	return step(v.Mul(v, big.NewRat(1_000_000, 1)))
}

func (r *reference) file(text string) {
	text = strings.TrimPrefix(text, "\ufeff")
	first := newReference() // reads it once to see how it changes
	if !r.own && strings.Contains(strings.ToUpper(text), "M6") {
		first.own = true
		first.file(text)
		r.own = first.chose
	}
	for _, line := range strings.Split(text, "\n") {
		r.line(strings.TrimSuffix(line, "\r"))
	}
}

func (r *reference) line(s string) {
	if n := strings.Index(s, ";"); n >= 0 {
		s = s[:n]
	}
	s = strings.ToUpper(s)
	trimmed := strings.Trim(s, " \t")
	if strings.HasPrefix(trimmed, "/") {
		r.deleted++
		return
	}
	if trimmed == "" || trimmed[0] == '%' {
		return
	}
	numbered := refNum.MatchString(s)
	if m := refName.FindStringSubmatch(trimmed); m != nil {
		r.unknown[m[1][:min(len(m[1]), 40)]]++
		return
	}
	s = refNum.ReplaceAllString(refParen.ReplaceAllString(s, ""), "")
	if refSum.MatchString(s) {
		s = refSum.ReplaceAllString(s, "")
		r.checksums++
		_ = numbered
	}
	r.words(strings.NewReplacer(" ", "", "\t", "").Replace(s))
}

func (r *reference) words(s string) {
	vals := map[string]string{}
	var codes []string
	for _, m := range refWord.FindAllStringSubmatch(s, -1) {
		if m[1] != "G" && m[1] != "M" {
			vals[m[1]] = m[2]
			continue
		}
		f, _ := strconv.ParseFloat(m[2], 64)
		name := m[1] + strconv.FormatFloat(f, 'f', -1, 64)
		if refQuiet.MatchString(name) {
			break
		}
		if !refKnown.MatchString(name) {
			r.unknown[name]++
			break
		}
		codes = append(codes, name)
		if name == "M0" || name == "M1" { // a text follows
			break
		}
	}
	if len(codes) == 0 && len(vals) == 0 {
		return
	}
	r.command(codes, vals)
}
