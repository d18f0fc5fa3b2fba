package store

import (
	"bytes"
	"errors"
	"hash/crc32"
	"strings"
	"testing"
)

func TestSealUnseal(t *testing.T) {
	bucket, key := []byte("journal"), seqKey(7)
	for name, content := range map[string][]byte{
		"nothing": nil, "short": []byte(`{"v":1}`),
		"long enough to be packed":  bytes.Repeat([]byte("the belt hums "), 2000),
		"long and not to be packed": noise(20000),
	} {
		t.Run(name, func(t *testing.T) {
			rec := seal(bucket, key, content)
			got, err := unseal(bucket, key, rec)
			if err != nil || !bytes.Equal(got, content) {
				t.Fatalf("%d bytes, %v", len(got), err)
			}
			if len(rec) > len(content)+recordHead {
				t.Errorf("%d bytes take %d", len(content), len(rec))
			}
			for bit := range min(len(rec)*8, 4000) {
				bad := bytes.Clone(rec)
				bad[bit/8] ^= 1 << (bit % 8)
				if got, err := unseal(bucket, key, bad); !errors.Is(err, ErrDamaged) || got != nil {
					t.Fatalf("bit %d flipped: %v", bit, err)
				}
			}
			if _, err := unseal(bucket, seqKey(8), rec); !errors.Is(err, ErrDamaged) {
				t.Error("taken under another key")
			}
			if _, err := unseal(textBucket, key, rec); !errors.Is(err, ErrDamaged) {
				t.Error("taken in another bucket")
			}
		})
	}
}

// TestRecordOfNewerFormat: what a newer program wrote is told from damage.
func TestRecordOfNewerFormat(t *testing.T) {
	rec := seal(journalBucket, seqKey(1), []byte("{}"))
	rec[0] = recordVersion + 1
	sum := recordSum(journalBucket, seqKey(1), rec)
	rec[2], rec[3], rec[4], rec[5] = byte(sum>>24), byte(sum>>16), byte(sum>>8), byte(sum)
	if _, err := unseal(journalBucket, seqKey(1), rec); !errors.Is(err, ErrNewer) ||
		errors.Is(err, ErrDamaged) {
		t.Error(err)
	}
}

// TestCRC32C holds the sum to the published check value of CRC-32C (Castagnoli): E3069283 for the
// digits 1 to 9 (the parameter set "CRC-32/ISCSI" of the CRC catalogue).
func TestCRC32C(t *testing.T) {
	rec := make([]byte, recordHead)
	if got := recordSum([]byte("12345"), []byte("6789"), rec); got == 0xE3069283 {
		t.Error("the separator and the head are not in the sum")
	}
	if got := crcOf("123456789"); got != 0xE3069283 {
		t.Errorf("%08X", got)
	}
}

func FuzzUnseal(f *testing.F) {
	key := seqKey(1)
	seeds := [][]byte{
		seal(journalBucket, key,
			[]byte(`{"v":1,"seq":1,"kind":"care","care":{"procedure":"oil","outcome":"done"}}`)),
		seal(journalBucket, key, []byte(strings.Repeat("a", packFrom+1))), {}, {1, 0, 0, 0, 0},
		{1, 1, 0, 0, 0, 0, 9, 9},
	}
	for _, s := range seeds {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, rec []byte) {
		got, err := unseal(journalBucket, key, rec)
		if err != nil {
			if got != nil {
				t.Error("content beside an error")
			}
			return
		}
		again, err := unseal(journalBucket, key, seal(journalBucket, key, got))
		if err != nil || !bytes.Equal(again, got) {
			t.Errorf("does not read back: %v", err)
		}
	})
}

// FuzzDecodeEntry: any content under a right sum is an entry or an error.
func FuzzDecodeEntry(f *testing.F) {
	for _, s := range []string{`{"v":1,"seq":1}`, `{"v":2,"seq":1}`, `{"seq":2}`, `[]`,
		`{"at":"x"}`, ``} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, content []byte) {
		e, err := decodeEntry(seqKey(1), seal(journalBucket, seqKey(1), content))
		if err == nil && e.Seq != 1 {
			t.Errorf("entry %d taken for entry 1", e.Seq)
		}
	})
}

func noise(n int) []byte {
	b := make([]byte, n)
	fill(b, 3)
	return b
}

func crcOf(s string) uint32 { return crc32.Checksum([]byte(s), castagnoli) }
