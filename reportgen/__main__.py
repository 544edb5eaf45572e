from reportgen.cli import main

main()
