using System.Text;

namespace EdgeGuard.Reports.Text;

/// <summary>A grid of characters with a tone each, written as lines of text with or without terminal colours.</summary>
internal sealed class TextCanvas(int width, int height)
{
    private const string Escape = "\u001b[";
    private static readonly string[] Codes = ["0", "2", "1", "32", "33", "1;31"];
    private readonly char[] _chars = Blank(width * height);
    private readonly TextTone[] _tones = new TextTone[width * height];

    /// <summary>Writes text; what would fall outside the grid is cut off, control characters become '?'.</summary>
    public void Put(int x, int y, string text, TextTone tone = TextTone.Plain)
    {
        for (int i = 0; i < text.Length; i++)
        {
            int at = x + i;
            if (at >= 0 && at < width && y >= 0 && y < height)
            {
                _chars[(y * width) + at] = char.IsControl(text[i]) ? '?' : text[i];
                _tones[(y * width) + at] = tone;
            }
        }
    }

    /// <summary>Draws a frame of the given outer size.</summary>
    public void Box(int x, int y, int boxWidth, int boxHeight)
    {
        string line = new('─', boxWidth - 2);
        Put(x, y, "┌" + line + "┐", TextTone.Dim);
        for (int row = 1; row < boxHeight - 1; row++)
        {
            Put(x, y + row, "│", TextTone.Dim);
            Put(x + boxWidth - 1, y + row, "│", TextTone.Dim);
        }

        Put(x, y + boxHeight - 1, "└" + line + "┘", TextTone.Dim);
    }

    /// <summary>The lines, each ending with a line feed, without trailing blanks.</summary>
    public string Render(bool colour, bool unicode)
    {
        var text = new StringBuilder();
        for (int y = 0; y < height; y++)
        {
            Row(text, y, colour);
            text.Append('\n');
        }

        return unicode ? text.ToString() : ToAscii(text);
    }

    private static char[] Blank(int count)
    {
        var chars = new char[count];
        Array.Fill(chars, ' ');
        return chars;
    }

    private static string ToAscii(StringBuilder text) => text
        .Replace('─', '-').Replace('│', '|').Replace('═', '=').Replace('►', '>').Replace('█', '#').Replace('░', '.')
        .Replace('●', '*').Replace('○', 'o').Replace('┌', '+').Replace('┐', '+').Replace('└', '+').Replace('┘', '+')
        .Replace('┬', '+').Replace('┴', '+').Replace('▼', 'v').Replace('°', ' ').Replace('≥', '>').Replace('≤', '<').ToString();

    private void Row(StringBuilder text, int y, bool colour)
    {
        int end = width;
        while (end > 0 && _chars[(y * width) + end - 1] == ' ')
        {
            end--;
        }

        var tone = TextTone.Plain;
        for (int x = 0; x < end; x++)
        {
            TextTone next = _tones[(y * width) + x];
            if (colour && next != tone)
            {
                text.Append(Escape).Append("0;").Append(Codes[(int)next]).Append('m');
                tone = next;
            }

            text.Append(_chars[(y * width) + x]);
        }

        if (tone != TextTone.Plain)
        {
            text.Append(Escape).Append("0m");
        }
    }
}
