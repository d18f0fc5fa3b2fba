//go:build !amd64

package job

// knowsForms tells whether this processor reads lines by their form. Others read them word by word.
const knowsForms = false

func sumForms([]byte, *forms, *level) int { return 0 }

func readForms([]byte, *forms, []rec, uint32) (n, recs int) { return 0, 0 }

func seekLetters(b []byte) int { return seekPlain(b) }
