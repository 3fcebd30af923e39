package export

func openFile(data []byte) (grid, *Refusal) { return readText(data) }
