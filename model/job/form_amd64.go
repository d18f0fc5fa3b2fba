package job

import "golang.org/x/sys/cpu"

// knowsForms tells whether this processor reads lines by their form.
var knowsForms = cpu.X86.HasAVX2 && cpu.X86.HasBMI1 && cpu.X86.HasSSE42

// sumForms adds up lines from the beginning of b on as long as their form is known and none has a
// word that is strange to u, and gives how many bytes that was. It leaves some bytes at the end of
// b.
func sumForms(b []byte, f *forms, u *level) int {
	if len(b) < formRoom {
		return 0
	}
	return sumAVX2(b, f, u)
}

// readForms makes records of lines from the beginning of b on as long as their form is known and
// there is room in to. It gives how many bytes and records that was. line is where b begins in its
// block.
func readForms(b []byte, f *forms, to []rec, line uint32) (n, recs int) {
	if len(b) < formRoom {
		return 0, 0
	}
	return readAVX2(b, f, to, line)
}

// sumAVX2 is sumForms for len(b) >= formRoom.
//
//go:noescape
func sumAVX2(b []byte, f *forms, u *level) int

// readAVX2 is readForms for len(b) >= formRoom.
//
//go:noescape
func readAVX2(b []byte, f *forms, to []rec, line uint32) (n, recs int)

// seekLetters gives where the first t or m, large or small, stands in b, len(b) where none does.
func seekLetters(b []byte) int {
	if !knowsForms {
		return seekPlain(b)
	}
	i := seekAVX2(b)
	if i < len(b) && (b[i]|0x20 == 't' || b[i]|0x20 == 'm') {
		return i
	}
	return i + seekPlain(b[i:])
}

// seekAVX2 looks through as many times 32 bytes as b has; it gives where that ends, or the place of
// the first.
//
//go:noescape
func seekAVX2(b []byte) int
