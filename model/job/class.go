package job

// class says what becomes of a code.
type class uint8

const (
	unknownCode class = iota
	countedCode       // carried out
	quietCode         // known, costs nothing here; what follows on its line is its own
	pauseCode         // stops until somebody comes; what follows may be a text
)

// gCodes are the G words known, in tenths: NISTIR 6556 table 5, and G10, G11 of the dialect.
var gCodes = map[int32]class{
	0: countedCode, 10: countedCode, 20: countedCode, 30: countedCode, // movement
	40: countedCode, 800: countedCode,
	100: countedCode, 110: countedCode, // pull back and push forth by the machine's own length
	170: countedCode, 180: countedCode, 190: countedCode, // plane
	200: countedCode, 210: countedCode, // units
	280: countedCode, 920: countedCode,
	900: countedCode, 910: countedCode,
	940: quietCode, // feed per minute, which always holds
}

// mCodes are the M words known (from memory). Those that are quiet switch motors, fans and screens,
// ask for reports, wait for movement to end, clock the print (75 to 77), label its objects (486), or
// set how pressure is made up for (572, 900) and shaking (593).
var mCodes = map[int32]class{
	0: pauseCode, 10: pauseCode, 60: countedCode,
	820: countedCode, 830: countedCode,
	1040: countedCode, 1090: countedCode, 1400: countedCode, 1900: countedCode,
	1410: countedCode, 1910: countedCode,
	2010: countedCode, 2030: countedCode, 2040: countedCode, 2050: countedCode,
	2200: countedCode, 2210: countedCode, 6000: countedCode,
	2000: countedCode,                                        // filament by volume
	1080: countedCode, 1350: countedCode, 10200: countedCode, // with T or S: another tool

	170: quietCode, 180: quietCode, 840: quietCode, 730: quietCode, 1050: quietCode,
	1060: quietCode, 1070: quietCode, 1100: quietCode, 1140: quietCode, 1150: quietCode,
	1170: quietCode, 1180: quietCode, 3000: quietCode, 4000: quietCode,
	750: quietCode, 760: quietCode, 770: quietCode, 1550: quietCode, 4860: quietCode,
	5720: quietCode, 5930: quietCode, 9000: quietCode,
}

func (c code) class() class {
	if c.letter == 'G' {
		return gCodes[c.number]
	}
	return mCodes[c.number]
}
