"""SVG files for tests."""


def svg(inside: str, frame: str = 'width="8in" height="4in" viewBox="0 0 8 4"') -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {frame}>{inside}</svg>'.encode()


TRAY = '<rect x="0" y="0" width="8" height="4"/><rect x="1" y="1" width="6" height="2"/>'
