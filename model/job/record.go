package job

// rec is what one line of movement says: the words X Y Z E F in millionths, as far as mask has
// them. Lines that say anything else put their words beside and point at them. The asm of
// form_amd64.s writes records, line to at as one little-endian number.
type rec struct {
	v    [5]int64 // x, y, z, e, f
	line uint32   // where the line begins in its block
	op   op
	mask uint8
	at   uint16 // opName: length of the name
}

// Places in rec.v, and the bits of rec.mask.
const (
	atX = iota
	atY
	atZ
	atE
	atF

	hasX = 1 << atX
	hasY = 1 << atY
	hasZ = 1 << atZ
	hasE = 1 << atE
	hasF = 1 << atF

	hasXYZ = hasX | hasY | hasZ
)

// op is what a record is.
type op uint8

const (
	opRapid   op = iota // G0
	opLinear            // G1
	opCW                // G2
	opCCW               // G3
	opNone              // no motion mode: G80, or none said yet
	opWords             // v[0] is an index into lexed.words
	opName              // something unknown: lexed.names from v[0], at bytes
	opBad               // v[0] is the verdict, v[1] an index into lexed.reasons, or beyond them
	opStretch           // v[0] is an index into lexed.stretches
)

// words are the words of one line, in millionths, by letter.
type words struct {
	has   uint32 // letters with a number
	bare  uint32 // letters without
	n     int    // how many codes
	codes [8]code
	v     [26]int64
}

// code is a G or M word; number is in tenths, so that G92.1 is 921.
type code struct {
	letter byte
	number int32
}

func letterBit(c byte) uint32 { return 1 << (c - 'A') }

func (w *words) given(c byte) bool { return w.has&letterBit(c) != 0 }

func (w *words) get(c byte) int64 { return w.v[c-'A'] }

// lexed is what a lexer made of a block. The slices keep their room from block to block.
type lexed struct {
	recs      []rec
	stretches []stretch
	words     []words
	names     []byte
	reasons   []string // of the first bad lines of the block
	ended     bool     // by what is no text: nothing behind it was read

	lines     int64 // line ends seen
	known     int64 // lines with a command this package knows
	deleted   int64 // lines that begin with the block delete mark
	checksums int64 // checksums that were right
}

func (l *lexed) reset() {
	*l = lexed{recs: l.recs[:0], stretches: l.stretches[:0], words: l.words[:0], names: l.names[:0],
		reasons: l.reasons[:0]}
}

// spare lets go of room that only one strange block needed.
func (l *lexed) spare() {
	if cap(l.recs) > 1<<15 {
		l.recs = nil
	}
	if cap(l.stretches) > 1<<12 {
		l.stretches = nil
	}
	if cap(l.words) > 1<<12 {
		l.words = nil
	}
	if cap(l.names) > 1<<16 {
		l.names = nil
	}
}
