using System.Text;

namespace EdgeGuard.Service.Configuration.Json;

/// <summary>Turns byte offsets of a UTF-8 text into lines and columns.</summary>
internal sealed class LineIndex
{
    private readonly string _file;
    private readonly byte[] _utf8;
    private readonly List<int> _starts = [0];

    public LineIndex(string file, byte[] utf8)
    {
        _file = file;
        _utf8 = utf8;
        for (int i = 0; i < utf8.Length; i++)
        {
            if (utf8[i] == (byte)'\n')
            {
                _starts.Add(i + 1);
            }
        }
    }

    public TextPosition At(long offset)
    {
        int index = (int)Math.Clamp(offset, 0, _utf8.Length);
        int line = _starts.BinarySearch(index);
        line = line < 0 ? ~line - 1 : line;
        int column = Encoding.UTF8.GetCharCount(_utf8, _starts[line], index - _starts[line]);
        return new TextPosition(_file, line + 1, column + 1);
    }

    /// <summary>Byte offset of a zero-based line and byte position, as the JSON reader reports them.</summary>
    public long Offset(long line, long bytePosition) =>
        line < _starts.Count ? _starts[(int)line] + bytePosition : _utf8.Length;
}
