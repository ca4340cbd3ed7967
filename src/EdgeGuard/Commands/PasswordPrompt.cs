using System.Security.Cryptography;
using System.Text;
using EdgeGuard.OpcUa.Security;

namespace EdgeGuard.Commands;

/// <summary>Asks for a new password: twice and without echo on a terminal, one line where the input is a file or a pipe.</summary>
internal static class PasswordPrompt
{
    /// <summary>The hash; null when nothing usable was typed, which has been explained on the error output.</summary>
    public static PasswordHash? Ask(string name)
    {
        byte[]? password = Console.IsInputRedirected ? FromLine(Console.In.ReadLine()) : AskTwice(name);
        if (password is null || password.Length is < PasswordHash.PasswordBytesMin or > PasswordHash.PasswordBytesMax)
        {
            string found = password is null ? "none, or two that differ" : $"{password.Length} bytes";
            Console.Error.WriteLine($"edgeguard: password: found {found}; expected {PasswordHash.PasswordBytesMin} to {PasswordHash.PasswordBytesMax} bytes; nothing was changed");
            return null;
        }

        PasswordHash hash = PasswordHash.Create(password);
        CryptographicOperations.ZeroMemory(password);
        return hash;
    }

    private static byte[]? AskTwice(string name)
    {
        byte[] first = ReadHidden($"new password of {name}: ");
        byte[] second = ReadHidden("once more: ");
        bool same = first.AsSpan().SequenceEqual(second);
        CryptographicOperations.ZeroMemory(second);
        return same ? first : null;
    }

    private static byte[] ReadHidden(string prompt)
    {
        Console.Error.Write(prompt);
        var typed = new StringBuilder();
        for (ConsoleKeyInfo key = Console.ReadKey(intercept: true); key.Key != ConsoleKey.Enter; key = Console.ReadKey(intercept: true))
        {
            if (key.Key == ConsoleKey.Backspace)
            {
                typed.Length = Math.Max(0, typed.Length - 1);
            }
            else if (!char.IsControl(key.KeyChar) && typed.Length < PasswordHash.PasswordBytesMax)
            {
                typed.Append(key.KeyChar);
            }
        }

        Console.Error.WriteLine();
        return Encoding.UTF8.GetBytes(typed.ToString());
    }

    private static byte[]? FromLine(string? line) => line is null ? null : Encoding.UTF8.GetBytes(line);
}
