"""A puzzle of every family, small enough to be taken apart in a test, with options that change what is true of it."""

SAMPLE = [
    *["cube:2", "cube:3", "cube:3,centres=marked", "cube:3,centres=none", "cube:4", "cube:2,turns=half", "cube:3,turns=half"],
    *["cube:3,turns=R+U", "cuboid:1x1x4", "cuboid:1x3x3", "cuboid:2x2x3", "cuboid:2x3x4", "cuboid:3x3x4"],
    *["shape-mod:cube", "shape-mod:prism8", "shape-mod:prism8,paint=FR+FL+BR+BL", "shape-mod:cube,axis=U,degrees=45"],
    *["shape-mod:prism5,slabs=2", "shape-mod:prism8,slabs=4", "shape-mod:prism3,mechanism=corner-cube"],
    *["shape-mod:prism5,turns=half", "tetrahedron", "tetrahedron,tips=no", "octahedron", "dodecahedron", "corner-cube"],
    *["loop:7,window=3", "loop:4,window=4,beads=aabb", "loop:6,window=6,beads=3+3", "rings:7+7,cross=2", "rings:8+8+8"],
    *["rings:4+4,cross=1", "rings:6+6,beads=5+5", "tiles:2x2", "tiles:3x3", "tiles:3x3,letters=aabcdefg", "tiles:4x4,blank=r1c1"],
    *["graph:2+1+2", "graph:1+1+3", "graph:0+1+2,letters=aabc", "wedges:6", "wedges:6,middle=halves"],
]
